"""VERIFY.txt: how to show the pack whole with standard tools, and which attacks that catches and which it does not."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.publish.pack.names import AUTHORITY, NAMESPACE, PAYLOAD, SEALED, SIGNATURES, SIGNERS, TOKEN
from dossier.publish.pack.signature import fingerprint_of

COMMANDS = (
    f"ssh-keygen -Y verify -f {SIGNERS} -I sealer -n {NAMESPACE} -s {SIGNATURES['sealer']} < {SEALED}",
    f"sha512sum --strict --quiet -c {SEALED} {PAYLOAD['sha512']}",
    f"! {{ find . ! -type d ! -path './tagmanifest-*' | cut -c3-; cut -c131- {SEALED} {PAYLOAD['sha512']}; }} | sort | uniq -u | grep .",
    f"sha256sum {SEALED}",
    f"! test -e {TOKEN} || openssl ts -verify -data {SEALED} -in {TOKEN} -CAfile {AUTHORITY}",
)
"""One each for: who sealed it; no byte changed; nothing added; which edition it is; when it was there at the latest."""

_TEXT = """\
HOW TO SHOW THIS PACK WHOLE
{draft}
{title}
This machine is a replica. {audience} edition, revision {revision}, {date}.
Edition {number} in its chain{supersedes}.
Sealed by the key {fingerprint}

What was withheld from this audience, in number of entries: {withheld}.

Open data/site/index.html in a browser to read the dossier; data/print/print-edition.pdf is the
whole of it for paper. To check it, open a terminal in this folder, on Debian or any system with
OpenSSH, coreutils and findutils, and give these commands:

1. Who sealed it. It must say: Good "{namespace}" signature for sealer.
   The key stands in {signers}, which came with the pack: compare the key above with the one the
   builder gave you by another way. That comparison is the proof; without it you only know that
   somebody sealed it.

    {c0}

2. Not one byte changed. It must print nothing.

    {c1}

3. Nothing added, nothing lost. It must print nothing.

    {c2}

4. Which edition it is. The 64 digits must be those on the paper that came with the machine; compare
   all of them.

    {c3}

5. Only where a time-stamp token lies beside the list: it must say Verification: OK. Once the
   certificate of the authority has run out this plain check fails; then the token is to be judged as
   of its own time, with the certificates and revocation lists kept from then.

    {c4}

The edition before this one, its list and its signatures lie in history/, and those of every edition
before it. Where seller and buyer have signed, their signatures lie beside the sealer's and are checked
as in 1, with seller (or buyer) in place of sealer and tagmanifest-sha512.txt.seller.sig in
place of tagmanifest-sha512.txt.sig.

WHAT THIS CATCHES, AND WHAT NOT

Caught    a byte changed, a file cut short, lost, renamed, put in another's place (2)
Caught    a file added (3)
Caught    the lists made anew to fit altered files (1)
Caught    sealed anew by another's key, if you compare the key in 1 or the digits in 4
Caught    an earlier line of custody or revision removed, moved or rewritten, if you compare
          edition.json with history/, or an older pack with this one
Not caught by these commands: empty folders added; they hold nothing
NOT caught  the newest edition left out and an older one shown as the newest: ask the builder for the
          digits of the latest edition, and see 4
NOT caught  two different editions of one number sealed by the same key for two buyers: compare the
          digits of both papers
NOT caught  a date that the signer set back: only a time-stamp token (5), or a buyer's signature of
          the day, speaks against the signer
NOT caught  a time-stamp token exchanged together with the certificate of its authority: compare the
          certificate with one you have from the authority itself
NOT caught  a changed byte of the token that its authority does not sign, such as its outer status: it
          changes nothing that the token says of the day
NOT caught  something untrue that was sealed: the seal says who sealed what, never that it is so
NOT caught  a stolen key: the builder must say from when it no longer counts

None of this is legal advice; what a seal proves is for local law to say.
"""


def how_to_verify(edition: Edition, number: int, before: str, key: str) -> bytes:
    """The text for one edition; `before` is the digest of the edition it supersedes, or nothing."""
    withheld = ", ".join(f"{word} {count}" for word, count in edition.withheld.items()) or "none"
    commands = {f"c{at}": command for at, command in enumerate(COMMANDS)}
    text = _TEXT.format(
        draft="\nDRAFT: records that are due are missing.\n" if edition.draft else "", title=edition.build.machine.title,
        audience=edition.audience.word.capitalize(), revision=edition.revision, date=edition.revised.isoformat(), number=number,
        supersedes=f"; it supersedes the edition with the digest\n{before}" if before else ", the first",
        fingerprint=fingerprint_of(key), withheld=withheld, namespace=NAMESPACE, signers=SIGNERS, **commands,
    )  # fmt: skip
    return text.encode()
