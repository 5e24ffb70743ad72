"""A sealed pack stands up to the tools of others, gives each audience what is its own, and is refused where it must be."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
import rfc8785
from click.testing import CliRunner, Result

from dossier import cli
from dossier.audience import let_out
from dossier.model.audience import Audience
from dossier.publish.pack import send
from dossier.publish.pack.seal import SealError
from dossier.publish.pack.verify import verify_pack
from tests.filled_build import everything
from tests.publish.pack.packs import BUILDS, all_bytes, commands_of, kestrane, new_key, plain, small, with_revision

ROOT = Path(__file__).resolve().parents[3]


def run(*words: object) -> Result:
    return CliRunner().invoke(cli.main, [str(word) for word in words])


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A pack of the smaller demo build for its owner, with all that the command does."""
    folder = tmp_path_factory.mktemp("sealed")
    key = new_key(folder, "key")
    done = run("seal", BUILDS / "kestrane-125-r", "--for", "owner", "--key", key, "--out", folder / "pack", "--draft", "--zip")
    assert done.exit_code == 0, done.output
    assert "DRAFT, owner edition 1 sealed" in done.output
    return folder / "pack"


def test_the_bag_is_valid_to_the_bagit_library_of_others(whole: Path) -> None:
    tool = Path(sys.executable).with_name("bagit.py")
    done = subprocess.run([str(tool), "--validate", str(whole)], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


def test_plain_sha256sum_passes_both_lists(whole: Path) -> None:
    for name in ("manifest-sha256.txt", "tagmanifest-sha256.txt"):
        assert subprocess.run(["sha256sum", "--strict", "--quiet", "-c", name], cwd=whole, check=False).returncode == 0


def test_the_commands_of_verify_txt_are_at_most_five_and_pass_with_nothing_but_the_systems_tools(whole: Path) -> None:
    done = plain(whole)

    assert 1 <= len(done) <= 5
    assert [code for code, _ in done] == [0] * len(done)
    assert 'Good "dossier-edition" signature for sealer' in done[0][1]
    assert hashlib.sha256((whole / "tagmanifest-sha512.txt").read_bytes()).hexdigest() in done[3][1]


def test_the_payload_describes_itself_as_an_ro_crate(whole: Path) -> None:
    from rocrate.rocrate import ROCrate

    read = ROCrate(str(whole / "data"))
    said = {entity.id for entity in read.data_entities}

    assert read.root_dataset["name"].startswith("Harrowfen replica")
    assert said == {name for name in all_bytes(whole / "data") if name != "ro-crate-metadata.json"}


def test_the_record_of_the_edition_is_canonical_and_says_what_was_withheld(whole: Path) -> None:
    data = (whole / "edition.json").read_bytes()
    record = json.loads(data)

    assert rfc8785.dumps(record) == data
    assert record["withheld"]["parts"] > 0
    assert record["draft"]
    assert record["supersedes"] is None


def test_a_lesser_audience_gets_no_file_of_the_build_folder_and_no_digest_of_one(whole: Path) -> None:
    every = b"".join(all_bytes(whole).values())
    for path in (BUILDS / "kestrane-125-r").rglob("*"):
        if path.is_file():
            data = path.read_bytes()
            assert hashlib.sha256(data).hexdigest().encode() not in every
            assert hashlib.sha512(data).hexdigest().encode() not in every
            assert data not in every
    assert not (whole / "data" / "source").exists()


def test_the_workshop_gets_its_own_files_byte_for_byte(tmp_path: Path) -> None:
    key = new_key(tmp_path, "key")
    done = run("seal", BUILDS / "kestrane-125-r", "--for", "workshop", "--key", key, "--out", tmp_path / "pack", "--draft")

    assert done.exit_code == 0, done.output
    assert all_bytes(tmp_path / "pack/data/source/kestrane-125-r") == all_bytes(BUILDS / "kestrane-125-r")
    assert (tmp_path / "pack/data/source/workshop.yaml").read_bytes() == (BUILDS / "workshop.yaml").read_bytes()


def test_the_zip_holds_the_pack_and_passes_after_unpacking(whole: Path, tmp_path: Path) -> None:
    subprocess.run(["unzip", "-q", str(whole.with_name("pack.zip")), "-d", str(tmp_path)], check=True)

    assert all_bytes(tmp_path / "pack") == all_bytes(whole)
    with zipfile.ZipFile(whole.with_name("pack.zip")) as box:
        assert {entry.date_time for entry in box.infolist()} == {(2025, 5, 10, 0, 0, 0)}


@pytest.mark.skipif(not shutil.which("age"), reason="needs Debian's age")
def test_debians_age_opens_what_was_locked_for_an_ssh_key(whole: Path, tmp_path: Path) -> None:
    key = new_key(tmp_path, "reader")
    send.lock(whole.with_name("pack.zip"), tmp_path / "pack.age", str(key.with_suffix(".pub")))
    subprocess.run(["age", "-d", "-i", str(key), "-o", str(tmp_path / "opened"), str(tmp_path / "pack.age")], check=True)

    assert (tmp_path / "opened").read_bytes() == whole.with_name("pack.zip").read_bytes()


def test_path_zone_locale_hash_seed_umask_and_cores_change_no_byte_of_a_pack_or_its_zip(tmp_path: Path) -> None:
    key = new_key(tmp_path, "key")
    shutil.copytree(BUILDS, tmp_path / "another place" / "machines")
    (tmp_path / "home").mkdir()
    places = (
        (BUILDS, tmp_path / "here", {"TZ": "UTC", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "1"}, 0o022),
        (
            tmp_path / "another place" / "machines",
            tmp_path / "there",
            {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "99", "HOME": str(tmp_path / "home")},
            0o077,
        ),
    )
    for builds, out, surroundings, mask in places:
        out.mkdir()
        words = ["seal", str(builds / "kestrane-125-r"), "--for", "workshop", "--key", str(key), "--out", str(out / "pack"), "--draft", "--zip"]
        one_core = ["taskset", "-c", str(min(os.sched_getaffinity(0)))] if mask == 0o077 and shutil.which("taskset") else []
        command = [*one_core, sys.executable, "-m", "dossier.cli", *words]
        environment = {**os.environ, "PYTHONPATH": str(ROOT), **surroundings}
        subprocess.run(command, env=environment, check=True, capture_output=True, cwd=tmp_path, umask=mask)

    assert all_bytes(tmp_path / "here/pack") == all_bytes(tmp_path / "there/pack")
    assert (tmp_path / "here/pack.zip").read_bytes() == (tmp_path / "there/pack.zip").read_bytes()


def test_a_folder_that_lacks_a_record_is_sealed_only_as_a_draft(tmp_path: Path) -> None:
    key = new_key(tmp_path, "key")
    done = run("seal", BUILDS / "kestrane-125-r", "--for", "owner", "--key", key, "--out", tmp_path / "pack")

    assert done.exit_code == 1
    assert "torque log" in done.output
    assert not (tmp_path / "pack").exists()


def test_a_folder_with_an_error_is_not_sealed(tmp_path: Path) -> None:
    shutil.copytree(BUILDS, tmp_path / "builds")
    machine = tmp_path / "builds/kestrane-125-r/machine.yaml"
    machine.write_text(machine.read_text(encoding="utf-8") + "nothing_known: 1\n", encoding="utf-8")
    done = run("seal", machine.parent, "--for", "owner", "--key", new_key(tmp_path, "key"), "--out", tmp_path / "pack", "--draft")

    assert done.exit_code == 1
    assert "nothing was sealed" in done.output
    assert not (tmp_path / "pack").exists()


def test_a_folder_that_changed_while_it_was_read_is_not_sealed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(SealError, match="changed while it was read"):
        small(monkeypatch, kestrane(), new_key(tmp_path, "key"), tmp_path / "pack", unchanged=lambda: False)

    assert sorted(one.name for one in tmp_path.iterdir()) == ["key", "key.pub"]


def test_a_name_outside_the_safe_alphabet_does_not_enter_a_pack(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("notes/with blank.md", "notes/100%.md", "notes/ü.md", "-rf.md", "notes/../../../x"):
        with pytest.raises(SealError, match="rename the file"):
            small(monkeypatch, kestrane(), new_key(tmp_path / name.replace("/", "_"), "key"), tmp_path / "pack", files=(name,))

    assert not (tmp_path / "pack").exists()


def test_a_sealed_edition_is_never_written_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key = new_key(tmp_path, "key")
    small(monkeypatch, kestrane(), key, tmp_path / "pack")
    with pytest.raises(SealError, match="never written over"):
        small(monkeypatch, kestrane(), key, tmp_path / "pack")

    assert verify_pack(tmp_path / "pack").defects == ()


def test_an_edition_without_a_revision_is_not_sealed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(SealError, match="no revision"):
        small(monkeypatch, replace(kestrane(), revision="none"), new_key(tmp_path, "key"), tmp_path / "pack")


def test_each_edition_of_an_audience_names_only_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key, edition = new_key(tmp_path, "key"), kestrane()
    small(monkeypatch, edition, key, tmp_path / "one")
    other = replace(with_revision(edition, "Z"), audience=Audience.PUBLIC)
    with pytest.raises(SealError, match="audience was 'owner' and is 'public'"):
        small(monkeypatch, other, key, tmp_path / "two", older=tmp_path / "one")


def test_verify_txt_says_of_each_attack_whether_it_is_caught(whole: Path) -> None:
    text = (whole / "VERIFY.txt").read_text(encoding="utf-8")

    assert text.count("NOT caught  ") == 7
    assert text.count("Caught    ") == 5
    assert len(commands_of(whole)) == 5


@pytest.mark.parametrize("audience", [Audience.PUBLIC, Audience.OWNER])
def test_changing_every_private_word_and_number_changes_no_byte_of_a_pack(
    audience: Audience, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    key = new_key(tmp_path, "key")
    for seed in (1, 2):
        small(monkeypatch, let_out(everything(seed, steady=audience), audience), key, tmp_path / str(seed))

    assert all_bytes(tmp_path / "1") == all_bytes(tmp_path / "2")


@pytest.mark.parametrize(
    ("words", "said"),
    [(("--to", "nobody"), "neither an SSH public key nor an age recipient"), (("--key", "no-such-key"), "there is no key")],
)
def test_a_key_or_reader_that_is_none_is_said_before_anything_is_written(words: tuple[str, str], said: str, tmp_path: Path) -> None:
    key = new_key(tmp_path / "keys", "key")
    done = run("seal", BUILDS / "kestrane-125-r", "--for", "owner", "--key", key, "--out", tmp_path / "out/pack", "--draft", *words)

    assert done.exit_code == 1, done.output
    assert said in done.output
    assert "nothing was sealed" in done.output
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())


def test_the_command_locks_a_pack_for_an_age_recipient_who_opens_it(whole: Path, tmp_path: Path) -> None:
    import pyrage

    reader = pyrage.x25519.Identity.generate()
    pack = shutil.copytree(whole, tmp_path / "pack")
    [locked] = send.send(pack, False, str(reader.to_public()))

    assert [one.name for one in sorted(tmp_path.iterdir())] == ["pack", "pack.zip.age"]
    opened = pyrage.decrypt(locked.read_bytes(), [reader])
    assert opened == whole.with_name("pack.zip").read_bytes()


def test_the_print_edition_of_the_same_audience_is_in_the_pack_byte_for_byte_as_the_command_prints_it(whole: Path, tmp_path: Path) -> None:
    done = run("print", BUILDS / "kestrane-125-r", "--for", "owner", "--out", tmp_path / "edition.pdf", "--no-cache")
    assert done.exit_code == 0, done.output
    crate = json.loads((whole / "data/ro-crate-metadata.json").read_bytes())
    [named] = [one["name"] for one in crate["@graph"] if one["@id"] == "print/print-edition.pdf"]

    assert (whole / "data/print/print-edition.pdf").read_bytes() == (tmp_path / "edition.pdf").read_bytes()
    assert named == "Print edition: the whole dossier on paper, A4"
    assert "data/print/print-edition.pdf" in (whole / "manifest-sha512.txt").read_text(encoding="ascii")
