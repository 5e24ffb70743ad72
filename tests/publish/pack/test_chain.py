"""Editions in a chain: what was said stays, hand-overs and new keys are signed, a time-stamp token is judged at its own time."""

from __future__ import annotations

import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dossier import cli
from dossier.audience import open_builds
from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.publish.pack.edition_record import read_record
from dossier.publish.pack.names import NAMESPACE
from dossier.publish.pack.seal import SealError
from dossier.publish.pack.verify import verify_pack
from tests.publish.pack.packs import all_bytes, kestrane, new_key, plain, small, talvera_as_handed_over, with_revision

ROOT = Path(__file__).resolve().parents[3]
LIST = "tagmanifest-sha512.txt"
TSA = """\
[req]
distinguished_name = dn
x509_extensions = authority
prompt = no
[dn]
CN = Invented time-stamping authority
[authority]
extendedKeyUsage = critical,timeStamping
keyUsage = critical,digitalSignature
[tsa]
default_tsa = one
[one]
dir = {folder}
serial = $dir/serial
signer_cert = $dir/authority.pem
signer_key = $dir/authority.key
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256, sha512
"""


def run(*words: object) -> Result:
    return CliRunner().invoke(cli.main, [str(word) for word in words])


def files_named(pack: Path) -> set[str]:
    return {one.file for one in verify_pack(pack).defects}


def signs(key: Path, pack: Path, who: str) -> None:
    """What a seller or buyer does, with OpenSSH alone."""
    command = f"ssh-keygen -q -Y sign -n {NAMESPACE} -f {key} < {LIST} > {LIST}.{who}.sig"
    subprocess.run(["/bin/sh", "-c", command], cwd=pack, check=True, capture_output=True)


@pytest.fixture(scope="module")
def handed_over(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's two hand-overs as packs D and E: builder to first owner, first owner to second, whose keys are `first` and `second`."""
    folder = tmp_path_factory.mktemp("handed-over")
    for name in ("builder", "first", "second"):
        new_key(folder, name)
    before = talvera_as_handed_over(folder / "builds")
    shared = ("--for", "owner", "--key", folder / "builder", "--cache", folder / "cache")
    done = run("seal", before, *shared, "--out", folder / "D", "--buyer", folder / "first.pub")
    assert done.exit_code == 0, done.output
    assert f"the buyer signs with: ssh-keygen -Y sign -n {NAMESPACE} -f KEY < {LIST} > {LIST}.buyer.sig" in done.output
    assert files_named(folder / "D") == {f"{LIST}.buyer.sig"}
    signs(folder / "first", folder / "D", "buyer")
    parties = ("--seller", folder / "first.pub", "--buyer", folder / "second.pub")
    done = run("seal", ROOT / "builds/talvera-350-gp", *shared, "--out", folder / "E", "--older", folder / "D", *parties)
    assert done.exit_code == 0, done.output
    signs(folder / "first", folder / "E", "seller")
    signs(folder / "second", folder / "E", "buyer")
    return folder


def test_the_demos_two_hand_overs_are_whole_by_verify_and_by_the_systems_own_tools_in_a_clean_folder(handed_over: Path, tmp_path: Path) -> None:
    shutil.copytree(handed_over / "E", tmp_path / "E")
    done = run("verify", tmp_path / "E", "--against", handed_over / "D")

    assert done.exit_code == 0, done.output
    assert "whole: owner edition 2, revision E, 2025-10-04" in done.output
    assert [code for code, _ in plain(tmp_path / "E")] == [0] * 5


def test_a_pack_with_history_is_valid_to_the_bagit_library_of_others(handed_over: Path) -> None:
    tool = Path(sys.executable).with_name("bagit.py")
    done = subprocess.run([str(tool), "--validate", str(handed_over / "E")], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


def test_the_second_edition_names_the_digest_of_the_first_and_every_revision_between(handed_over: Path) -> None:
    first, second = (read_record((handed_over / name / "edition.json").read_bytes()) for name in "DE")
    digest = subprocess.run(["sha256sum", LIST], cwd=handed_over / "D", capture_output=True, text=True, check=True).stdout.split()[0]

    assert second["supersedes"] == {"number": 1, "revision": "D", "sha256": digest}
    assert second["revisions"][:4] == first["revisions"]
    assert [one["rev"] for one in second["revisions"]] == list("ABCDE")
    assert len(first["custody"]) == 2
    assert second["custody"][2]["shown_as"] == "second owner (name private)"


def test_seller_and_buyer_are_checked_with_plain_ssh_keygen_and_a_signature_by_another_is_refused(handed_over: Path, tmp_path: Path) -> None:
    for who in ("seller", "buyer"):
        command = f"ssh-keygen -Y verify -f signers.txt -I {who} -n {NAMESPACE} -s {LIST}.{who}.sig < {LIST}"
        assert subprocess.run(["/bin/sh", "-c", command], cwd=handed_over / "E", check=False, capture_output=True).returncode == 0
    shutil.copytree(handed_over / "E", tmp_path / "E")
    signs(handed_over / "builder", tmp_path / "E", "buyer")

    assert files_named(tmp_path / "E") == {f"{LIST}.buyer.sig"}


def test_an_edition_that_a_party_has_yet_to_sign_is_not_built_upon(handed_over: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key = handed_over / "builder"
    small(monkeypatch, kestrane(), key, tmp_path / "one", parties={"buyer": (handed_over / "first.pub").read_text().strip()})
    with pytest.raises(SealError, match="the buyer has not signed"):
        small(monkeypatch, with_revision(kestrane(), "Z"), key, tmp_path / "two", older=tmp_path / "one")


def changed(edition: Edition, how: str) -> Edition:
    """The edition with its revisions removed, in another order, or rewritten."""
    lines = edition.build.custody.revisions
    other = {
        "removed": lines[1:],
        "in another order": (lines[1], lines[0], *lines[2:]),
        "rewritten": (replace(lines[0], what="something else"), *lines[1:]),
    }[how]
    return replace(edition, build=replace(edition.build, custody=replace(edition.build.custody, revisions=other)))


@pytest.mark.parametrize("how", ["removed", "in another order", "rewritten"])
def test_an_earlier_revision_that_is_taken_back_is_refused_at_sealing_and_found_in_a_pack(
    how: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    key, first = new_key(tmp_path, "key"), with_revision(kestrane(), "Y")
    later = changed(with_revision(first, "Z"), how)
    small(monkeypatch, first, key, tmp_path / "one")
    with pytest.raises(SealError, match="revisions, line 1"):
        small(monkeypatch, later, key, tmp_path / "two", older=tmp_path / "one")
    # sealed all the same by somebody who holds the key and does not ask
    monkeypatch.setattr("dossier.publish.pack.seal.rewritten", lambda earlier, later: [])
    small(monkeypatch, later, key, tmp_path / "two", older=tmp_path / "one")
    said = [str(one) for one in verify_pack(tmp_path / "two").defects]

    assert said
    assert all(one.startswith("edition.json: broken chain: revisions, line") for one in said)


def test_a_revision_is_sealed_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key = new_key(tmp_path, "key")
    small(monkeypatch, kestrane(), key, tmp_path / "one")
    with pytest.raises(SealError, match="sealed already"):
        small(monkeypatch, kestrane(), key, tmp_path / "two", older=tmp_path / "one")


def test_a_new_key_seals_only_with_the_signature_of_the_old(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old, new, later = new_key(tmp_path, "old"), new_key(tmp_path, "new"), with_revision(kestrane(), "Z")
    small(monkeypatch, kestrane(), old, tmp_path / "one")
    with pytest.raises(SealError, match="sealed by another key"):
        small(monkeypatch, later, new, tmp_path / "two", older=tmp_path / "one")
    small(monkeypatch, later, new, tmp_path / "two", older=tmp_path / "one", old_key=old)
    assert verify_pack(tmp_path / "two", against=tmp_path / "one").defects == ()

    (tmp_path / "two" / f"{LIST}.old-key.sig").unlink()
    assert files_named(tmp_path / "two") == {f"{LIST}.old-key.sig"}


def test_what_an_earlier_edition_left_in_history_cannot_be_changed_unseen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key, first = new_key(tmp_path, "key"), kestrane()
    second = with_revision(first, "Y")
    small(monkeypatch, first, key, tmp_path / "one")
    small(monkeypatch, second, key, tmp_path / "two", older=tmp_path / "one")
    small(monkeypatch, with_revision(second, "Z"), key, tmp_path / "three", older=tmp_path / "two")
    kept = tmp_path / "three/history"

    assert all_bytes(kept / "0001") == {name: (tmp_path / "one" / name).read_bytes() for name in ("edition.json", LIST, f"{LIST}.sig")}
    shutil.rmtree(kept / "0001")
    (kept / "0002").rename(kept / "0001")
    assert {"history/0002"} <= files_named(tmp_path / "three")


@pytest.fixture
def stamped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A pack beside a token over it, made by openssl with an invented authority whose certificate has a day to live."""
    small(monkeypatch, kestrane(), new_key(tmp_path, "key"), tmp_path / "pack")
    (tmp_path / "tsa.cnf").write_text(TSA.format(folder=tmp_path), encoding="utf-8")
    (tmp_path / "serial").write_text("01\n", encoding="utf-8")
    for command in (
        "openssl req -x509 -newkey rsa:2048 -nodes -days 1 -config tsa.cnf -keyout authority.key -out authority.pem",
        f"openssl ts -query -data pack/{LIST} -sha512 -cert -out query.tsq",
        "openssl ts -reply -config tsa.cnf -queryfile query.tsq -out token.tsr",
    ):
        subprocess.run(command.split(), cwd=tmp_path, check=True, capture_output=True)
    return tmp_path


def test_a_token_from_a_file_is_attached_and_verified_here_and_by_the_command_of_verify_txt(stamped: Path) -> None:
    done = run("stamp", stamped / "pack", "--token", stamped / "token.tsr", "--authority", stamped / "authority.pem")

    assert done.exit_code == 0, done.output
    assert verify_pack(stamped / "pack").defects == ()
    code, said = plain(stamped / "pack")[4]
    assert code == 0
    assert "Verification: OK" in said


def test_a_token_over_other_bytes_is_neither_attached_nor_passed(stamped: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small(monkeypatch, with_revision(kestrane(), "Z"), stamped / "key", stamped / "other")
    done = run("stamp", stamped / "other", "--token", stamped / "token.tsr", "--authority", stamped / "authority.pem")
    assert done.exit_code == 1
    assert not (stamped / "other" / f"{LIST}.tsr").exists()

    shutil.copy(stamped / "token.tsr", stamped / "other" / f"{LIST}.tsr")
    assert files_named(stamped / "other") == {f"{LIST}.authority.pem"}
    shutil.copy(stamped / "authority.pem", stamped / "other" / f"{LIST}.authority.pem")
    assert files_named(stamped / "other") == {f"{LIST}.tsr"}


def test_a_token_outlives_the_certificate_of_its_authority_in_verify_and_not_in_the_plain_check(stamped: Path) -> None:
    run("stamp", stamped / "pack", "--token", stamped / "token.tsr", "--authority", stamped / "authority.pem")
    words = ["-verify", "-data", LIST, "-in", f"{LIST}.tsr", "-CAfile", f"{LIST}.authority.pem", "-attime", "4000000000"]
    in_a_century = subprocess.run(["openssl", "ts", *words], cwd=stamped / "pack", check=False, capture_output=True)

    assert in_a_century.returncode != 0
    assert verify_pack(stamped / "pack").defects == ()


def test_a_token_travels_in_the_history_of_the_editions_after_it(stamped: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run("stamp", stamped / "pack", "--token", stamped / "token.tsr", "--authority", stamped / "authority.pem")
    small(monkeypatch, with_revision(kestrane(), "Z"), stamped / "key", stamped / "next", older=stamped / "pack")

    assert (stamped / "next/history/0001" / f"{LIST}.tsr").read_bytes() == (stamped / "token.tsr").read_bytes()
    assert verify_pack(stamped / "next").defects == ()


def talvera() -> Edition:
    """The owner's edition of the larger demo build, which has holders and statements."""
    [opened], _ = open_builds(ROOT / "builds/talvera-350-gp")
    return opened.edition(Audience.OWNER)


def first_changed(edition: Edition, name: str, **fields: object) -> Edition:
    """The same with its first line of custody or of the statements changed, or without it where no field is given."""
    first, *rest = getattr(edition.build.custody, name)
    lines = (replace(first, **fields), *rest) if fields else tuple(rest)
    return replace(edition, build=replace(edition.build, custody=replace(edition.build.custody, **{name: lines})))


TAKEN_BACK = {
    "a holder rewritten": (lambda one: first_changed(one, "custody", shown_as="Somebody else"), "custody, line 1: shown_as"),
    "a holder removed": (lambda one: first_changed(one, "custody"), "custody, line "),
    "a statement rewritten": (lambda one: first_changed(one, "statements", text="I say otherwise."), "statements, line 1: text"),
    "a statement removed": (lambda one: first_changed(one, "statements"), "statements, line "),
}


@pytest.mark.parametrize("how", TAKEN_BACK)
def test_a_line_of_custody_or_a_statement_that_is_taken_back_is_refused_at_sealing_and_found_in_a_pack(
    how: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    change, said = TAKEN_BACK[how]
    key, first = new_key(tmp_path, "key"), talvera()
    later = change(with_revision(first, "Z"))
    small(monkeypatch, first, key, tmp_path / "one")
    with pytest.raises(SealError, match=said):
        small(monkeypatch, later, key, tmp_path / "two", older=tmp_path / "one")
    # sealed all the same by somebody who holds the key and does not ask
    monkeypatch.setattr("dossier.publish.pack.seal.rewritten", lambda earlier, later: [])
    small(monkeypatch, later, key, tmp_path / "two", older=tmp_path / "one")

    for defects in (verify_pack(tmp_path / "two").defects, verify_pack(tmp_path / "two", against=tmp_path / "one").defects):
        assert defects
        assert all(str(one).startswith(f"edition.json: broken chain: {said.split(',')[0]}, line ") for one in defects)


def test_a_custody_line_rewritten_in_a_finished_pack_is_found_and_the_file_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small(monkeypatch, talvera(), new_key(tmp_path, "key"), tmp_path / "pack")
    record = tmp_path / "pack/edition.json"
    record.write_bytes(record.read_bytes().replace(b"first owner", b"other owner"))

    assert files_named(tmp_path / "pack") == {"edition.json"}


def authority(folder: Path, name: str) -> Path:
    """Another invented authority in a folder of its own, with a token of its own over the pack's list."""
    own = folder / name
    own.mkdir()
    (own / "tsa.cnf").write_text(TSA.format(folder=own), encoding="utf-8")
    (own / "serial").write_text("01\n", encoding="utf-8")
    for command in (
        "openssl req -x509 -newkey rsa:2048 -nodes -days 1 -config tsa.cnf -keyout authority.key -out authority.pem",
        f"openssl ts -query -data ../pack/{LIST} -sha512 -cert -out query.tsq",
        "openssl ts -reply -config tsa.cnf -queryfile query.tsq -out token.tsr",
    ):
        subprocess.run(command.split(), cwd=own, check=True, capture_output=True)
    return own


def test_a_token_altered_cut_short_or_swapped_and_an_authority_swapped_or_lost_are_found_and_named(stamped: Path) -> None:
    run("stamp", stamped / "pack", "--token", stamped / "token.tsr", "--authority", stamped / "authority.pem")
    other = authority(stamped, "other")
    token, pem = stamped / "pack" / f"{LIST}.tsr", stamped / "pack" / f"{LIST}.authority.pem"
    whole, certificates = token.read_bytes(), pem.read_bytes()

    def found(file: str, data: bytes | None) -> bool:
        path = stamped / "pack" / file
        kept = path.read_bytes()
        path.unlink()
        if data is not None:
            path.write_bytes(data)
        named, by_tools = files_named(stamped / "pack"), any(code for code, _ in plain(stamped / "pack"))
        path.write_bytes(kept)
        return bool(named & {token.name, pem.name}) and named <= {token.name, pem.name} and by_tools

    # the status before the token proper (granted, or granted with modifications) is no part of what the authority signs
    for at in (0, len(whole) // 3, len(whole) // 2, len(whole) - 40, len(whole) - 1):
        assert found(token.name, whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :]), at
    assert found(token.name, whole[:-100])
    assert found(token.name, (other / "token.tsr").read_bytes())
    assert found(pem.name, (other / "authority.pem").read_bytes())
    assert found(pem.name, certificates.replace(certificates[100:140], certificates[140:180]))
    assert found(pem.name, None)
    assert verify_pack(stamped / "pack").defects == ()


def test_token_and_authority_exchanged_together_pass_here_and_are_found_by_the_certificate_one_trusts(stamped: Path) -> None:
    # Anybody may add a token of an authority of his own: a token is worth what its authority is, and that is for the reader to know.
    other = authority(stamped, "other")
    run("stamp", stamped / "pack", "--token", other / "token.tsr", "--authority", other / "authority.pem")
    words = ["-verify", "-data", LIST, "-in", f"{LIST}.tsr", "-CAfile", "../authority.pem"]

    assert verify_pack(stamped / "pack").defects == ()
    assert subprocess.run(["openssl", "ts", *words], cwd=stamped / "pack", check=False, capture_output=True).returncode != 0
