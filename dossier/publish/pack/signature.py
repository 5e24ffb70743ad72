"""Signatures by OpenSSH keys: made and checked by ssh-keygen, taken apart here to see whose they are (OpenSSH, PROTOCOL.sshsig)."""

from __future__ import annotations

import base64
import hashlib
import struct
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

from dossier.publish.pack.names import NAMESPACE

_BEGIN, _END = "-----BEGIN SSH SIGNATURE-----\n", "-----END SSH SIGNATURE-----\n"
_MAGIC = b"SSHSIG"
_COLUMNS = 70


class SigningError(RuntimeError):
    """A key that cannot be used, or no ssh-keygen; the message says what ssh-keygen said."""


@dataclass(frozen=True)
class Signature:
    """A signature taken apart: its key as in `ssh-ed25519 AAAA…`, and what it was made for."""

    key: str
    namespace: str


def public_key(key: Path) -> str:
    """The public half of a private key, or a public key as its file says it, without its remark. SigningError where there is none."""
    beside = key if key.suffix == ".pub" else key.with_name(f"{key.name}.pub")
    if not key.is_file() and not beside.is_file():
        raise SigningError(f"there is no key {key}")
    text = beside.read_text(encoding="utf-8") if beside.is_file() else _run("-y", "-f", str(key)).decode()
    words = text.split()
    if len(words) < 2:
        raise SigningError(f"{beside} is not a public key of OpenSSH")
    return f"{words[0]} {words[1]}"


def fingerprint_of(key: str) -> str:
    """The short form in which ssh-keygen -l prints a public key, `SHA256:…`."""
    digest = hashlib.sha256(base64.b64decode(key.split()[1])).digest()
    return "SHA256:" + base64.b64encode(digest).decode().rstrip("=")


def sign(data: bytes, key: Path) -> bytes:
    """The signature over `data` by a private key. With Ed25519 the same data and key give the same bytes (RFC 8032)."""
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        (Path(aside) / "list").write_bytes(data)
        _run("-Y", "sign", "-q", "-n", NAMESPACE, "-f", str(key), str(Path(aside) / "list"))
        return (Path(aside) / "list.sig").read_bytes()


def take_apart(signature: bytes) -> Signature:
    """Key and purpose of a signature. ValueError where it is not in the very form in which ssh-keygen writes it."""
    try:
        text = signature.decode("ascii")
        blob = base64.b64decode(text.removeprefix(_BEGIN).removesuffix(_END).replace("\n", ""), validate=True)
    except ValueError as fault:
        raise ValueError("it is not an OpenSSH signature") from fault
    if text != _armour(blob) or not blob.startswith(_MAGIC):
        raise ValueError("it is not in the form in which ssh-keygen writes a signature")
    parts, rest = [], blob[len(_MAGIC) + 4 :]
    while rest:
        if len(rest) < 4 or len(rest) < 4 + struct.unpack(">I", rest[:4])[0]:
            raise ValueError("it ends early")
        length = struct.unpack(">I", rest[:4])[0]
        parts.append(rest[4 : 4 + length])
        rest = rest[4 + length :]
    if len(parts) != 5 or blob[len(_MAGIC) : len(_MAGIC) + 4] != b"\0\0\0\1" or parts[2]:
        raise ValueError("it is not a signature of the first version")
    kind = parts[0][4 : 4 + struct.unpack(">I", parts[0][:4])[0]] if len(parts[0]) > 4 else b"?"
    return Signature(f"{kind.decode('ascii', 'replace')} {base64.b64encode(parts[0]).decode()}", parts[1].decode("utf-8", "replace"))


def is_good(data: bytes, signature: bytes, key: str) -> bool:
    """Whether ssh-keygen finds that this key signed these bytes for a sealed edition."""
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        signers, file = Path(aside) / "signers", Path(aside) / "signature"
        signers.write_text(signers_line("signer", key), encoding="utf-8")
        file.write_bytes(signature)
        words = ("-Y", "verify", "-f", str(signers), "-I", "signer", "-n", NAMESPACE, "-s", str(file))
        try:
            _run(*words, given=data)
        except SigningError:
            return False
        return True


def is_known(signature: bytes, signers: Path) -> bool:
    """Whether the key of a signature stands in a file of signers (ssh-keygen, ALLOWED SIGNERS)."""
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        file = Path(aside) / "signature"
        file.write_bytes(signature)
        try:
            return bool(_run("-Y", "find-principals", "-f", str(signers), "-s", str(file)).strip())
        except SigningError:
            return False


def signers_line(who: str, key: str) -> str:
    """A line of a file of signers: who, for what, which key."""
    return f'{who} namespaces="{NAMESPACE}" {key}\n'


def _armour(blob: bytes) -> str:
    text = base64.b64encode(blob).decode()
    return _BEGIN + "".join(text[at : at + _COLUMNS] + "\n" for at in range(0, len(text), _COLUMNS)) + _END


def _run(*words: str, given: bytes | None = None) -> bytes:
    try:
        done = subprocess.run(("ssh-keygen", *words), input=given, capture_output=True, check=False)
    except FileNotFoundError as fault:
        raise SigningError("ssh-keygen is not installed (Debian: openssh-client)") from fault
    if done.returncode:
        raise SigningError((done.stderr or done.stdout).decode("utf-8", "replace").strip())
    return done.stdout
