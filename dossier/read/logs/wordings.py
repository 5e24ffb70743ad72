"""logs.yaml to its entries by file name, each checked against the logs that are there."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from dossier.model.forms.logs import LogsFile, LogWording
from dossier.model.problems import Problem, did_you_mean
from dossier.read.files import Folder
from dossier.read.places import read_tree
from dossier.read.specs import fill_in

FILE = "logs.yaml"


def read_wordings(folder: Folder, logs: Sequence[str]) -> tuple[dict[str, LogWording], list[Problem]]:
    """The entries of logs.yaml by the name of their file, none where there is no such sheet; and all that is wrong with it."""
    data, problems = folder.bytes_of(FILE)
    if data is None:
        return {}, problems
    root, problems = read_tree(data, folder.shown(FILE))
    if root is None:
        return {}, problems
    sheet = fill_in(LogsFile, root, folder.shown(FILE))
    problems += sheet.problems
    names = [PurePosixPath(name).name for name in logs]
    out: dict[str, LogWording] = {}
    for one in sheet.form.logs if sheet.form else ():
        if one.file not in names:
            instead = did_you_mean(one.file, names, f"logs: {', '.join(names[:12]) or 'none'}")
            problems.append(Problem("log-mapping", f"there is no file {one.file!r} in logs/", one.written, instead, "file"))
        elif one.file in out:
            problems.append(Problem("log-mapping", f"{one.file!r} stands here twice", one.written, "keep one entry", "file"))
        out.setdefault(one.file, one)
        for line in one.columns:
            if "=" not in line:
                instead = "write 'name in the file = Title [unit]'"
                problems.append(Problem("log-mapping", f"{line!r} does not say which column is which", one.written, instead, "columns"))
    return out, problems
