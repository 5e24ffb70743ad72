"""Whatever is done to a pack is found and named by file, by verify and, where they can, by the plain tools; what is whole passes."""

from __future__ import annotations

import itertools
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dossier import cli
from dossier.publish.pack.signature import public_key, sign
from dossier.publish.pack.verify import verify_pack
from tests.publish.pack.packs import all_bytes, kestrane, new_key, plain, small, with_revision

LIST = "tagmanifest-sha512.txt"


@pytest.fixture(scope="module")
def chain(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three small editions, F to H, each over the one before, in a folder with the keys `key` and `other`."""
    folder = tmp_path_factory.mktemp("chain")
    key = new_key(folder, "key")
    new_key(folder, "other")
    edition, older = kestrane(), None
    with pytest.MonkeyPatch.context() as monkeypatch:
        for name in ("F", "G", "H"):
            edition = with_revision(edition, name)
            small(monkeypatch, edition, key, folder / name, older=older)
            older = folder / name
    return folder


@pytest.fixture
def pack(chain: Path, tmp_path: Path) -> Path:
    """A copy of the second edition, free to be spoilt."""
    shutil.copytree(chain / "G", tmp_path / "pack")
    return tmp_path / "pack"


def run(*words: object) -> Result:
    return CliRunner().invoke(cli.main, ["verify", *map(str, words)])


def files_named(pack: Path, **more: Path) -> set[str]:
    return {one.file for one in verify_pack(pack, **more).defects}


def found_by_plain_tools(pack: Path, chain: Path) -> bool:
    """By the five commands, read from the VERIFY.txt of the whole pack."""
    return any(code for code, _ in plain(pack, chain / "G"))


def test_a_whole_pack_passes_alone_against_the_one_before_and_with_the_key_one_trusts(chain: Path) -> None:
    (chain / "signers").write_text(f"builder {public_key(chain / 'key')}\n", encoding="utf-8")

    done = run(chain / "G", "--against", chain / "F", "--signers", chain / "signers")

    assert done.exit_code == 0, done.output
    assert "whole: owner edition 2, revision G" in done.output


def names(chain: Path) -> list[str]:
    return sorted(all_bytes(chain / "G"))


def test_one_bit_turned_over_in_any_file_is_found_and_the_file_named(chain: Path, pack: Path) -> None:
    for name in names(chain):
        whole = (pack / name).read_bytes()
        for at in (0, len(whole) - 1, len(whole) // 2):
            (pack / name).write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
            assert name in files_named(pack), (name, at)
        # the list of SHA-256 of the tag files is no part of the five commands: all it says is signed in that of SHA-512
        if name != "tagmanifest-sha256.txt":
            assert found_by_plain_tools(pack, chain), name
        (pack / name).write_bytes(whole)
    assert verify_pack(pack).defects == ()


def test_a_file_cut_short_deleted_or_renamed_is_found_and_named(chain: Path, pack: Path) -> None:
    for name in names(chain):
        whole = (pack / name).read_bytes()
        (pack / name).write_bytes(whole[:-1])
        assert name in files_named(pack), name
        (pack / name).unlink()
        assert name in files_named(pack), name
        (pack / f"{name}.x").write_bytes(whole)
        assert {name, f"{name}.x"} <= files_named(pack), name
        if name != "tagmanifest-sha256.txt":
            assert found_by_plain_tools(pack, chain), name
        (pack / f"{name}.x").unlink()
        (pack / name).write_bytes(whole)


def test_any_two_neighbours_that_change_places_are_found_and_named(chain: Path, pack: Path) -> None:
    every = names(chain)
    for one, other in itertools.pairwise(every):
        first, second = (pack / one).read_bytes(), (pack / other).read_bytes()
        if first == second:
            continue
        (pack / one).write_bytes(second)
        (pack / other).write_bytes(first)
        assert {one, other} <= files_named(pack), (one, other)
        (pack / one).write_bytes(first)
        (pack / other).write_bytes(second)


@pytest.mark.parametrize("folder", ["", "data", "data/site", "history", "history/0001", "new"])
def test_a_file_or_an_empty_folder_or_a_link_put_in_anywhere_is_found_and_named(pack: Path, chain: Path, folder: str) -> None:
    name = f"{folder}/more" if folder else "more"
    (pack / name).parent.mkdir(exist_ok=True)
    (pack / name).write_bytes(b"")
    assert name in files_named(pack)
    assert found_by_plain_tools(pack, chain)
    (pack / name).unlink()
    (pack / name).symlink_to("/etc/hostname")
    assert name in files_named(pack)
    assert found_by_plain_tools(pack, chain)
    (pack / name).unlink()
    (pack / name).mkdir()
    assert name in files_named(pack)


def test_words_say_how_a_file_was_spoilt(pack: Path) -> None:
    photo, index = pack / "data/site/photographs/a.jpg", pack / "data/site/index.html"
    photo.write_bytes(photo.read_bytes()[:100])
    index.rename(pack / "data/site/other.html")
    said = [str(one) for one in verify_pack(pack).defects]

    assert "data/site/photographs/a.jpg: truncated: 100 of 256 bytes" in said
    assert "data/site/index.html: renamed: it lies at data/site/other.html" in said
    assert "data/site/other.html: extra: it is in no list" in said


def relist(pack: Path) -> None:
    """Make all lists anew to fit what lies there, as somebody would who covers up a change."""
    from dossier.publish.pack.manifests import digests_below, manifest
    from dossier.publish.pack.names import PAYLOAD, TAGS, files_below

    every, _ = files_below(pack)
    payload = digests_below(pack, [name for name in every if name.startswith("data/")])
    for kind, name in PAYLOAD.items():
        (pack / name).write_bytes(manifest(payload, kind))
    outside = [name for name in every if not name.startswith("data/") and not name.startswith("tagmanifest")]
    tags = digests_below(pack, outside)
    for kind, name in TAGS.items():
        (pack / name).write_bytes(manifest(tags, kind))


def altered_and_relisted(pack: Path, chain: Path) -> None:
    (pack / "data/dossier.json").write_text('{"revision": "Y"}\n', encoding="utf-8")
    relist(pack)


def sealed_anew(pack: Path, chain: Path, key: str = "other") -> None:
    """Alter the payload, then make record, signers, lists and signature anew with another key."""
    import hashlib

    import rfc8785

    from dossier.publish.pack.edition_record import read_record
    from dossier.publish.pack.signature import signers_line

    altered_and_relisted(pack, chain)
    record = read_record((pack / "edition.json").read_bytes())
    record["keys"] = {"sealer": public_key(chain / key)}
    record["manifests"] = {name: hashlib.sha256((pack / name).read_bytes()).hexdigest() for name in record["manifests"]}
    (pack / "edition.json").write_bytes(rfc8785.dumps(record))
    (pack / "signers.txt").write_text(signers_line("sealer", public_key(chain / key)), encoding="utf-8")
    relist(pack)
    (pack / f"{LIST}.sig").write_bytes(sign((pack / LIST).read_bytes(), chain / key))


def signature_of_another_edition(pack: Path, chain: Path) -> None:
    shutil.copy(chain / f"H/{LIST}.sig", pack / f"{LIST}.sig")


def signature_for_another_purpose(pack: Path, chain: Path) -> None:
    import subprocess

    subprocess.run(["ssh-keygen", "-q", "-Y", "sign", "-n", "file", "-f", str(chain / "key"), str(pack / LIST)], check=True, input=b"y\n")


def history_gone(pack: Path, chain: Path) -> None:
    shutil.rmtree(pack / "history")
    relist(pack)


def line_dropped(pack: Path, chain: Path) -> None:
    lines = (pack / "manifest-sha512.txt").read_text(encoding="ascii").splitlines(keepends=True)
    (pack / "manifest-sha512.txt").write_text("".join(lines[1:]), encoding="ascii")


FIFTEEN: dict[str, tuple[Callable[[Path, Path], object], str]] = {
    "one bit": (lambda p, c: flip(p / "data/site/photographs/a.jpg"), "data/site/photographs/a.jpg"),
    "cut short": (lambda p, c: os.truncate(p / "data/site/index.html", 3), "data/site/index.html"),
    "deleted": (lambda p, c: (p / "data/dossier.json").unlink(), "data/dossier.json"),
    "added to the payload": (lambda p, c: (p / "data/new.txt").write_text("x"), "data/new.txt"),
    "added at the top": (lambda p, c: (p / "README.txt").write_text("x"), "README.txt"),
    "empty folder": (lambda p, c: (p / "data/empty").mkdir(), "data/empty"),
    "renamed": (lambda p, c: (p / "data/dossier.json").rename(p / "data/x.json"), "data/dossier.json"),
    "file behind a link": (lambda p, c: behind_a_link(p / "data/dossier.json"), "data/dossier.json"),
    "line dropped from a list": (line_dropped, "manifest-sha512.txt"),
    "lists made anew": (altered_and_relisted, f"{LIST}.sig"),
    "signature taken away": (lambda p, c: (p / f"{LIST}.sig").unlink(), f"{LIST}.sig"),
    "signature of another edition": (signature_of_another_edition, f"{LIST}.sig"),
    "signature for another purpose": (signature_for_another_purpose, f"{LIST}.sig"),
    "sealed anew by another key": (sealed_anew, f"{LIST}.old-key.sig"),
    "history taken away": (history_gone, "history/0001"),
}


def flip(path: Path) -> None:
    data = path.read_bytes()
    path.write_bytes(data[:5] + bytes([data[5] ^ 16]) + data[6:])


def behind_a_link(path: Path) -> None:
    target = path.parents[2] / "elsewhere"
    shutil.move(path, target)
    path.symlink_to(target)


@pytest.mark.parametrize("name", FIFTEEN)
def test_each_of_fifteen_tamperings_is_refused_and_the_file_named(name: str, pack: Path, chain: Path) -> None:
    tamper, file = FIFTEEN[name]
    tamper(pack, chain)
    done = run(pack)

    assert done.exit_code == 1
    assert f"{pack}/{file}: " in done.output


def test_there_are_fifteen_of_them() -> None:
    assert len(FIFTEEN) == 15


def test_a_first_edition_sealed_anew_by_another_key_is_refused_by_the_key_one_trusts_or_a_pack_one_holds(chain: Path, tmp_path: Path) -> None:
    shutil.copytree(chain / "F", tmp_path / "pack")
    sealed_anew(tmp_path / "pack", chain)
    (chain / "signers").write_text(f"builder {public_key(chain / 'key')}\n", encoding="utf-8")

    assert files_named(tmp_path / "pack") == set()  # alone it cannot be told: VERIFY.txt says so
    assert files_named(tmp_path / "pack", signers=chain / "signers") == {f"{LIST}.sig"}
    assert files_named(tmp_path / "pack", against=chain / "F") == {LIST}


def test_the_same_key_sealing_another_edition_of_the_same_number_is_found_against_the_pack_one_holds(chain: Path, pack: Path) -> None:
    sealed_anew(pack, chain, "key")

    assert files_named(pack) == set()
    assert str(verify_pack(pack, against=chain / "G").defects[0]).startswith(f"{LIST}: broken chain: edition 2 is another")


def test_a_later_edition_left_out_is_found_against_it(chain: Path) -> None:
    done = run(chain / "G", "--against", chain / "H")

    assert done.exit_code == 1
    assert "later edition missing" in done.output


def test_changed_times_and_modes_alone_pass(pack: Path) -> None:
    for path in pack.rglob("*"):
        os.utime(path, (0, 0))
        path.chmod(0o700)

    assert verify_pack(pack).defects == ()


def test_a_pack_of_nonsense_is_answered_not_crashed_on(tmp_path: Path) -> None:
    for number, text in enumerate((b"", b"[" * 5000, b'{"form":1}', b"null", b"\xff", b'{"form":1,"number":"x"}')):
        folder = tmp_path / str(number)
        folder.mkdir()
        for name in ("edition.json", LIST, f"{LIST}.sig", "manifest-sha512.txt"):
            (folder / name).write_bytes(text)
        done = run(folder)
        assert done.exit_code == 1, done.output
        assert "edition.json: " in done.output


def test_a_name_that_leads_out_of_the_pack_is_refused_in_a_list(pack: Path) -> None:
    lines = (pack / "manifest-sha512.txt").read_text(encoding="ascii")
    (pack / "manifest-sha512.txt").write_text(lines + "0" * 128 + "  data/../../etc/hostname\n", encoding="ascii")

    assert "manifest-sha512.txt" in files_named(pack)
