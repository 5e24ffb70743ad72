"""The table of all problem codes: severity, one sentence, and the paragraph that `dossier explain` prints."""

from __future__ import annotations

from typing import NamedTuple


class Code(NamedTuple):
    """Severity (`error`, `warning`, `note`), a title, and what it means and what to do about it."""

    severity: str
    title: str
    explanation: str


CODES: dict[str, Code] = {}


def _code(code: str, severity: str, title: str, explanation: str) -> None:
    CODES[code] = Code(severity, title, " ".join(explanation.split()))


# ---------------------------------------------------------------- files and folders
_code("build-missing", "error", "there is no build folder here", """
    A build folder is a folder with a file machine.yaml in it. Check the path, or begin a new build.""")
_code("file-missing", "error", "a file without which nothing can be read is not there", """
    Every build needs machine.yaml, and the folder above the builds needs workshop.yaml with the workshop's name, instruments and
    people. All other files may be absent as long as there is nothing to say in them.""")
_code("file-unreadable", "error", "a file cannot be opened", """
    The system refuses to open the file: it may be a folder of that name, or the rights to read it are missing. Nothing in it was read.""")
_code("file-outside", "error", "a link leads out of the build folder", """
    A build folder must hold all that it speaks of, so that a copy of the folder is a copy of the record. Put the file itself in the
    place of the link.""")
_code("file-unknown", "note", "a file that is not read", """
    The folder holds a file that no form, log, photograph or note accounts for. It does no harm and is not published. Where its name is
    a slip of the pen for one of the forms, rename it.""")
_code("file-too-large", "error", "a text file is far too large", """
    Forms and notes are written by hand and stay below 8 MB. A larger file is taken for something else and is not read. Long tables
    belong in logs/ as CSV.""")
_code("file-encoding", "error", "the file is not UTF-8 text", """
    Every text file is read as UTF-8, so that ° and ± mean the same everywhere. In the editor choose Save as, UTF-8. Files from a
    spreadsheet are often Windows-1252 or UTF-16.""")
_code("file-bom", "note", "the file begins with an invisible mark", """
    Some editors put a byte-order mark before the first letter. It was skipped and changes nothing. Save as UTF-8 without BOM to be rid
    of it.""")
_code("file-crlf", "note", "the file has line ends of two kinds", """
    Some lines end as on Windows, some as elsewhere, or with a lone carriage return. Every line was read. Saving the file anew in any
    editor makes them alike.""")
_code("file-nul", "error", "the file holds NUL bytes", """
    A byte of value nought never stands in a text. The file is damaged, or it is no text file at all. Nothing in it was read.""")
_code("file-control", "error", "the file holds a control character", """
    An invisible control character stands in the text, often brought in by copying from a terminal or a PDF. Delete it and type the
    place anew.""")
_code("file-empty", "note", "the file says nothing", """
    The file is empty or holds comments only. That is allowed: nothing is recorded here. Delete it or fill it in when there is something
    to say.""")
_code("file-form", "error", "the file is not a block of keys", """
    Every form begins with keys at the left margin, each followed by a colon, as in `title: …`. This file begins with a list or a bare
    text.""")
_code("form-version", "error", "the form has a version this program does not know", """
    `form` says by which edition of the forms the folder was written. This program reads form 1. A higher number needs a newer program.""")
_code("note-link", "warning", "a picture or address in a note is left out", """
    A note may lead into the dossier (`figures.html`) or openly to another place (`https://…`, `mailto:…`). Pictures belong in photos/, where they are
    cleaned, masked and shown to whom they may be shown. Of all else the words alone are shown.""")
_code("note-audience", "error", "a note names an audience that does not exist", """
    A note may begin with the line `audience: public`, `audience: owner` or `audience: workshop`. Without it the note is for the
    workshop alone.""")

# ---------------------------------------------------------------- YAML
_code("yaml-syntax", "error", "the file cannot be taken apart into keys and values", """
    YAML is strict about colons, indentation, quotes and brackets. Reading stopped at the place shown; further faults in this file come
    to light once it is mended. The usual cause: a colon followed by a space inside a text, which then wants quotes.""")
_code("yaml-tab", "error", "a tab stands where blanks are wanted", """
    Indentation is made with blanks only, two for each step: a tab is of a different width for everybody. Set the editor to put blanks
    for the tab key.""")
_code("yaml-tag", "error", "a tag with ! is not allowed", """
    YAML lets a writer force a value's type by a word with an exclamation mark. Here the form alone decides what a value is. Take the
    tag away, or put the text in quotes if the exclamation mark belongs to it.""")
_code("yaml-anchor", "error", "anchors and aliases (& and *) are not allowed", """
    With & and * one place of a file can stand for another. A reader in twenty years should find each value where it is used, so write
    it out. If the character belongs to a text, put the text in quotes.""")
_code("yaml-depth", "error", "blocks lie too deep within each other", """
    No form is nested deeper than 12 steps. Brackets or indentation have run away.""")
_code("yaml-second-document", "error", "a second document begins in the same file", """
    A line of three hyphens begins a second document, and only one would be read. Delete the line, or put the rest in a file of its own.""")
_code("yaml-directive", "error", "a line beginning with % is not allowed", """
    Directives change how the rest of the file is read. The forms need none: delete the line.""")
_code("yaml-duplicate-key", "error", "the same key stands twice in one block", """
    Of two equal keys only one could count, and nobody would see which. Delete one, or make a list of both where the form allows a list.""")
_code("yaml-key-form", "error", "a key is not a plain word", """
    A key is one word before a colon. Lists, blocks and empty keys cannot be keys. Often a bracket { or [ begins a text: put the text in
    quotes.""")
_code("yaml-hash", "warning", "a text may have been cut off at #", """
    A # after a blank begins a comment: what follows is not part of the value. Where it belongs to the text (a number, a colour), put
    the whole text in quotes. Where it is a comment, put a blank after the #.""")

# ---------------------------------------------------------------- fields
_code("key-unknown", "error", "the form has no such key", """
    Unknown keys are refused, because a misspelt key would lose its value in silence. The forms are listed in README; near names are
    offered. A remark for the workshop may stand under `remark` in any record.""")
_code("key-missing", "error", "a key that the form needs is not there", """
    Without this key the record cannot be understood, or may not be published. Add it.""")
_code("value-empty", "error", "a value is missing in a list", """
    A list entry was left empty. A blank is never taken for nought: write the value, or delete the line.""")
_code("value-form", "error", "one plain value is wanted here", """
    The form wants a single value, and a list or block of keys was written.""")
_code("list-wanted", "error", "a list is wanted here", """
    The form takes several values at this place: put them in square brackets, or on lines of their own that begin with a hyphen, even if
    there is only one.""")
_code("block-wanted", "error", "a block of keys is wanted here", """
    The form takes a record with keys of its own at this place, written on indented lines or in curly brackets.""")
_code("choice-unknown", "error", "the word is not one of those the form offers", """
    Some fields take one of a few fixed words, so that pages can count and sort by them. The words are listed beside the fault.""")
_code("yes-or-no", "error", "yes or no is wanted", """
    Write yes or no (where the form allows it, unknown). Words such as true, on or y are not taken, lest one of them be a slip of the
    pen.""")
_code("id-form", "error", "this cannot be an id", """
    An id begins with a letter and goes on with letters, digits, and single hyphens or points, as in SN-01. It becomes an address on the
    published pages.""")
_code("colour-form", "error", "this is not a colour", """
    A colour is # and six hexadecimal digits in small letters, in quotes: "#14513b". Without quotes the # begins a comment.""")
_code("number-form", "error", "this is not a number", """
    Numbers are written in plain digits with a decimal point, as in 62.013, or as a workshop fraction such as 5/8. Powers of ten,
    leading noughts, blanks and other scripts' digits are refused, because programs disagree on what they mean.""")
_code("decimal-comma", "error", "a comma stands in a number", """
    62,013 is sixty-two and a bit in one country and sixty-two thousand in another. Write a decimal point, and no mark for thousands.""")
_code("unit-missing", "error", "a measured value has no unit", """
    Every measured value carries the unit in which it was measured. It is kept as written and converted exactly where a figure needs it.""")
_code("unit-unknown", "error", "this is not a unit the program knows", """
    Units are written as people write them: mm, in, thou, cc, cu in, kg, lb, N·m, lbf·ft, kgf·m, bar, psi, °, rpm, °C, s, h and more.
    Near names are offered.""")
_code("unit-twice", "error", "a reading has a unit of its own beside the common one", """
    `unit` gives the unit of all readings of an entry. A reading that carries a unit as well could be meant either way. Keep one of the
    two.""")
_code("dimension-wrong", "error", "the unit measures something else than is wanted", """
    A length was written where a mass belongs, or the like; or two values that belong together are of different kinds. Check unit and
    field.""")
_code("limits-form", "error", "this does not say limits", """
    Limits are written `348 to 350 cc`, `at most 201.0 mm`, `at least 2 mm`, `30.0 ± 0.1 mm` or `62.000 +0.020/-0 mm`, lower one first.""")
_code("date-form", "error", "this is not a date", """
    Dates are written year-month-day, as in 2025-05-31, because 05/06/25 means three different days. The day must exist.""")
_code("timing-form", "error", "this is not a valve timing card", """
    A valve timing is written inlet opens-closes / exhaust opens-closes in crank degrees, as in 52-76 / 78-46: before top, after bottom,
    before bottom, after top dead centre. Its entry is called valve_timing.""")
_code("entry-empty", "error", "a measurement entry says nothing", """
    An entry needs a value, readings, a timing card, words under `found`, or under `not_measured` the reason why there is none. A blank
    is not recorded, never nought.""")
_code("entry-ambiguous", "error", "a measurement entry says two things", """
    An entry has one of value, readings, timing, found and not_measured. Put the second in an entry of its own.""")
_code("entry-twice", "error", "the same value is given twice", """
    Two entries of one list have the same name and the same cylinder, gear, wheel and so on. Nobody could tell which counts. Put
    repeated readings in one entry under `readings`, or tell the entries apart, for instance by `state: before` and `state: after`.""")
_code("item-empty", "error", "a declared item declares nothing", """
    A numeric item needs a declared number, or limits, to be judged by. Give `declared`, or `limits`, or withdraw the item.""")
_code("limits-twice", "error", "an item has limits in two places", """
    `declared` already carries limits (as 30.0 ± 0.1 mm does) and `limits` gives others. Keep one.""")

# ---------------------------------------------------------------- what belongs together
_code("id-unknown", "error", "nothing has this id", """
    A record names another by its id, and there is none of that id in the folder. Near names are offered. It may stand in a file that
    could not be read: then mend that first.""")
_code("id-twice", "error", "two records have the same id", """
    An id names one record of its kind for ever, also in printed copies. Give the later one a new id.""")
_code("photo-missing", "error", "a photograph is not there", """
    photos.yaml names a file that is not in the folder photos/. Names are compared letter by letter, also large and small ones.""")
_code("photos-unlisted", "note", "photographs without a caption are left out", """
    The folder photos/ holds pictures that photos.yaml does not list. They are not published: a picture without caption, date and
    audience says nothing and may show too much.""")
_code("log-missing", "error", "a log is not there", """
    A record names a log that is not in the folder logs/. A log is named by its record and its kind, as in DY-1.dyno_run.csv, and is
    referred to as DY-1.dyno_run.""")
_code("date-order", "error", "something happened before its cause", """
    Two dates contradict each other: a snag fixed before it was found, verified before it was fixed, goods that arrived before they were
    ordered. One of the two is wrong.""")
_code("evidence-circle", "error", "sources derive from each other in a circle", """
    `derived_from` leads from a copy back to what it copies. A circle has no first source, so independent sources could not be counted.""")
_code("custody-overlap", "error", "two holders had the machine at once", """
    The links of custody overlap, or one ends before it begins. The day of handing over ends one link and begins the next.""")
_code("custody-gap", "warning", "a time without a holder", """
    Between two links of custody lies a time in which nobody held the machine. An honest gap is fine: say why under `gap` in the later
    link.""")
_code("after-revision", "warning", "something happened after the last revision", """
    A dossier bears the day of its latest revision. What is dated later would stand in a paper that claims to be older. List a revision under
    `revisions` in custody.yaml that takes it in.""")
_code("revision-order", "error", "revisions are not in the order of their dates", """
    A later revision is dated before an earlier one. List revisions from the first to the newest, each with the day it was issued.""")
_code("calibration-lapsed", "warning", "the instrument was out of calibration at the reading", """
    The reading was taken after the instrument's next calibration was due. The value is published with this remark; verdicts that rest on
    it should be looked at again.""")
_code("readings-identical", "note", "two readings agree to the last digit", """
    Left and right, or all readings of a set, are the same to the last digit. It happens; more often one was copied from the other.""")
_code("reading-coarser", "warning", "a reading is rounder than its instrument", """
    The value was written with fewer digits than the instrument resolves. The lost digits cannot be had back later: write what was read.""")
_code("value-impossible", "error", "a value that cannot be", """
    No machine has a stroke of nought, air colder than absolute zero, hours that count backwards, or a reading without any uncertainty. A digit
    or a sign was lost: write what was measured.""")
_code("limits-apart", "error", "what is declared lies outside its own limits", """
    The declared value and its limits do not belong together: a digit, or the unit of one of them, is wrong.""")
_code("unit-odd", "warning", "a value looks as if its unit were wrong", """
    The value differs from what is declared by just the factor between two units (25.4 for inch and millimetre, 16.387 for cubic inch
    and cc, 1.356 for lbf·ft and N·m, 9.81 for kgf and N). Check the unit.""")
_code("still-to-fill", "error", "a value is still to be filled in", """
    A begun form holds `to be filled in` wherever a person has to write. Write what is true, or delete the line where there is nothing
    to say.""")
_code("tyre-undated", "warning", "a tyre has no date code, or one that says no decade", """
    A tyre's age counts from its date code: week and year in four digits. Three digits mean before 2000. A tyre without a date is good
    for display only (common practice, no source); the club's rules and a competent person decide.""")
_code("evidence-unused", "note", "a source supports nothing", """
    No item, conflict, reading or measurement names this source. Either a link is missing, or the source says nothing of this machine.""")
_code("caption-thin", "note", "a caption says next to nothing", """
    A caption says what is seen, of which part, in which state. A file name or a single word will tell nobody anything in ten years.""")
_code("stamping-public", "error", "a photograph of a stamping would be public", """
    Numbers on frames and cases are copied by people who clone machines. Photographs of stampings are for owner and workshop; only the
    builder's own plate or number may be shown to everybody (common practice, no source).""")
_code("mask-missing", "error", "a stamped number has no masked form, or one that shows it", """
    The public sees `masked` in place of the number: the type prefix and dots, never the last digits. Write for instance RX •• •••.""")

# ---------------------------------------------------------------- logs
_code("log-name", "error", "the name of a log does not say what it is", """
    A log is called id.kind.csv: the id of the record it belongs to, the kind of log, as in DY-1.dyno_run.csv.""")
_code("log-kind-unknown", "error", "there is no such kind of log", """
    The kind stands before .csv in the file's name. Kinds are listed in README; near names are offered.""")
_code("log-header", "error", "the header of a log cannot be read", """
    The first line names the columns, each with its unit in square brackets, as in `Engine speed [rpm],Torque [N·m]`. A column that the
    kind needs is missing, stands twice, or is not known.""")
_code("log-unit", "error", "a column's unit is missing or of the wrong kind", """
    A unit stands in square brackets behind the column's name. It is kept as written; it must measure what the column holds.""")
_code("log-number", "warning", "a row of a log was left out for its number", """
    A cell is not a plain number with a decimal point. The whole row is left out, counted, and listed with its line; nothing is guessed.""")
_code("log-row", "warning", "a row of a log was left out for its length", """
    A row has more or fewer cells than the header. The row is left out, counted, and listed with its line.""")
_code("log-empty", "warning", "a log has no rows", """
    The log has a header, or not even that, and no row that could be read.""")
_code("log-encoding", "note", "a log is UTF-16 text", """
    Some loggers and spreadsheets write UTF-16. The mark at the beginning of the file proves it, and the log was read so.""")
_code("log-comma", "note", "a log was read with decimal commas", """
    Cells are not parted by commas, no number has a point, and at least one comma cannot part thousands: so the commas are decimal
    marks. The cell that shows it is named. Say `decimal: point` for the file in logs.yaml if it is not so.""")
_code("log-decimal", "error", "whether commas are decimal marks cannot be told", """
    1,234 may be one and a bit or more than a thousand, and where cells are parted by commas too nobody can tell. Nothing was read.
    Say `decimal: comma` or `decimal: point` for the file in logs.yaml, or save it with semicolons between the cells.""")
_code("log-lines-above", "note", "a log has lines above its header", """
    Many loggers write the day, the driver or the make of the logger first. These lines were left out, and are counted and listed.""")
_code("log-header-again", "note", "the header stands again among the rows", """
    It happens where logs were joined end to end. These rows were left out, and are counted and listed.""")
_code("log-columns", "note", "columns of a log were not read", """
    The log has columns that its kind does not use. Where one of them is meant to be read, correct its title, or name it in logs.yaml.""")
_code("log-mapping", "error", "logs.yaml names something that is not there", """
    An entry of logs.yaml names a file that is not in logs/, or a column that the log has not. Near names are offered.""")
_code("log-sheet", "error", "which sheet of a workbook is meant cannot be told", """
    The workbook has several sheets with something on them, or not the one that is named. Name it under `sheet` in logs.yaml.""")
_code("log-workbook", "error", "a workbook cannot be opened", """
    The file is not a whole XLSX workbook. Older .xls files are not read: save the sheet as CSV.""")
_code("log-clock", "warning", "the clock of a log jumps back", """
    Time does not go on from one row to the next: the logger was set, or logs were joined. All rows are kept; nothing is worked out
    across the jump.""")
_code("log-gap", "note", "a log has gaps in time", """
    Rows are missing, as where a logger lost contact. Nothing is filled in, and nothing is worked out across a gap.""")
_code("log-disagrees", "warning", "a value written by hand is not what its log says", """
    The value in measurements.yaml and the one that follows from the log differ by more than their uncertainty. The one written by hand is taken:
    mend it, or take it out so that the log speaks.""")
_code("log-spike", "note", "a log has single readings that cannot be", """
    One reading stands far off those before and after it, as from a spark or a lost count. It is kept in the table and is not counted
    among steady rows.""")
_code("log-twice", "warning", "a log gives the same reading twice", """
    Two rows speak of the same place, part or lap. The later one may correct the earlier: keep one.""")
_code("log-value", "warning", "a reading of a log cannot be", """
    A size or a pressure of nought or less, a lift beyond any cam, or the like: a slip of the pen, or the wrong unit in the header.""")

# ---------------------------------------------------------------- photographs
_code("photo-truncated", "error", "a photograph is cut off", """
    The file ends before the picture does, as after a broken copy. Copy it again from the camera or the backup.""")
_code("photo-empty", "error", "a photograph is an empty file", """
    The file has no bytes. Copy it again from the camera or the backup.""")
_code("photo-wrong-extension", "warning", "a photograph is of another format than its name says", """
    The file's first bytes say another format than its ending. Rename it, so that every program opens it.""")
_code("photo-bomb", "error", "a picture has far too many pixels", """
    A small file that unpacks to a huge picture can stop a computer. It was not unpacked. Save it in a sensible size.""")
_code("photo-unreadable", "error", "a photograph cannot be read", """
    No known picture format was found in the file. Export it as JPEG, PNG, TIFF, WebP or HEIC.""")
_code("photo-animated", "note", "a picture has several frames", """
    Only the first frame is shown. Save another as a file of its own if that is the one to show.""")
_code("photo-too-large", "error", "a picture file is far too large", """
    The file is larger than any photograph. It was not opened. Save it smaller.""")
_code("photo-other-format", "error", "a picture is of a format that is not read", """
    JPEG, PNG, TIFF, WebP and HEIC are read. Export the picture as one of them.""")
_code("photo-raw", "error", "a picture is a camera's raw file", """
    A raw file is a negative: develop it, and save it as JPEG or TIFF beside the raw.""")
_code("photo-odd-depth", "error", "a picture has 32 bits a sample", """
    What is black and what is white is not said in such a file. Save it with 8 or 16 bits a sample.""")
_code("photo-many-pages", "note", "a scan has several pages", """
    Only the first page is shown. Save the others as files of their own if they are to be seen.""")
_code("photo-notes-damaged", "note", "the camera's notes in a picture are damaged", """
    The date and other notes that the camera wrote cannot be read in full. Give the date by hand.""")
_code("photo-colour-profile", "note", "a picture's colours may come out wrong", """
    The colour profile in the file is missing, damaged or made for something else. Save the picture in sRGB if the colours are wrong.""")
_code("photo-undated", "note", "a photograph has no date", """
    Neither the camera nor photos.yaml gives a date. A photograph proves more when it is dated: write `date`, or what is known under
    `date_said`.""")
_code("photos-alike", "note", "photographs look nearly the same", """
    A perceptual hash finds these pictures nearly alike, as in a burst of the camera. Nothing is left out because of it. Keep the best of
    them, or let the captions say what differs.""")
_code("place-on-photo", "error", "a place on a photograph is not within it", """
    Masks and pins lie on the picture as seen, x and y in per cent from its upper left corner, 0 to 100. A mask is a rectangle of left,
    top, right and bottom, or a polygon of points: x, y, x, y and so on for three corners or more. A photograph whose mask cannot be
    understood is never published.""")
_code("photo-changed", "error", "a photograph changed while the dossier was made", """
    The file is not the one that was read and checked. Let the copying finish and publish again.""")
_code("before-after-order", "error", "the picture after is older than the picture before", """
    In a pair, the photograph marked after was taken earlier than the one marked before. The sides are swapped, or a date is wrong.""")

# ---------------------------------------------------------------- figures, completeness, publishing
_code("figure-impossible", "warning", "a figure came out impossible", """
    The value lies where no machine can be. It is not shown; an input is wrong, most often a unit or a slip of the pen.""")
_code("figure-unusual", "warning", "a figure is unusual: look again", """
    The value lies outside the usual range of the trade. That is no fault by itself. The range's source stands beside the figure.""")
_code("figure-extrapolates", "note", "a figure would lie outside its published table", """
    The formula rests on a table that does not reach so far. No value is given: nothing is extrapolated.""")
_code("strokes-other", "error", "a figure of the other kind of engine was asked for", """
    Two-strokes and four-strokes share most figures, but ports belong to the one and valves to the other. A figure of the one is refused
    for the other, lest a number of the same name be taken for it.""")
_code("value-feeds-nothing", "note", "a value is used by no figure and no item", """
    The name is not an input of any figure and no declared item is called so. It is kept and shown, but nothing is worked out from it.
    The name may be misspelt.""")
_code("concession-lapsed", "warning", "a concession no longer holds", """
    The concession's limit is passed, the item was changed in a later revision, or a safety item lacks the written opinion. The raw
    verdict stands alone until the concession is renewed.""")
_code("tolerance-finer-than-evidence", "warning", "a tolerance is finer than the evidence for it", """
    The declared limits lie closer than the uncertainty with which the original is known. Widen them, or say on what else they rest.""")
_code("ledger-open", "warning", "the mass ledger does not close", """
    The sums by cause and by assembly differ, or a part has only one of its two masses.""")
_code("record-missing", "warning", "a record that must exist is not there yet", """
    Some records must exist before a dossier is complete: statement, reference, stampings, use, items, evidence, parts, custody and
    others. Until they do, every page says draft.""")
_code("release-unknown", "error", "a release names nothing that exists", """
    A release opens one record, or one field of it, to a wider audience. What it names is not in the folder, so nothing was opened.""")
_code("group-unknown", "warning", "a group names a build that is not there", """
    Under `side_by_side` the workshop file lays builds of one folder side by side, by the names of their folders. One of these is not among the
    builds that were read with it: the name is misspelt, or the build has gone.""")
_code("livery-contrast", "error", "the livery colour cannot be read on its paper", """
    The accent colour must stand out from the paper by at least 4.5 to 1 (WCAG 2.2, 1.4.3), by day and by night. Choose a darker one for
    day, a lighter one for night.""")

# ---------------------------------------------------------------- verdicts
_code("calibration-out", "warning", "a verdict rests on an instrument out of calibration", """
    The reading that decided was taken after the instrument's calibration ran out. Measure again, or say why it may be believed.""")
_code("calibration-failed", "warning", "a verdict rests on an instrument that failed a calibration", """
    The instrument was found wrong after the reading was taken, or had not passed again before it. What was found at calibration, set against
    the tolerance, decides whether to measure again.""")
_code("choice-unlisted", "warning", "what was found is not among the options declared", """
    A choice is judged by equal words. Write the value as one of the item's options, or add it to them.""")
_code("concession-unproven", "warning", "whether a concession still holds cannot be shown", """
    The concession has a limit in numbers, but the reading that would show it has no stated uncertainty, lies too near, or is missing.""")
_code("eye-unnamed", "warning", "judged by eye, and nobody says by whose", """
    A finish judged by eye needs a name and the light it was seen in. Add `by` and `method` to the entry.""")
_code("no-evidence", "warning", "an item is declared without evidence and without an assumption", """
    Name the evidence it rests on, or say in evidence.yaml what was assumed and why.""")
_code("simple-acceptance", "note", "an item is judged without a guard band", """
    Simple acceptance carries up to half the risk of a wrong decision at the limit (ILAC-G8:09/2019). It is named beside the verdict.""")
_code("single-source", "note", "an item rests on one independent source", """
    Two papers that copy the same sheet are one source. It may be right; the reader is told.""")
_code("uncertainty-too-wide", "warning", "this method of measuring can never show conformity", """
    The expanded uncertainty is wider than half the tolerance, so no reading can lie clear of both guard bands. Measure better.""")
_code("uncertainty-wide", "note", "the uncertainty takes up much of the tolerance", """
    The ratio of half the tolerance to U is below 4; at 4 and above, few readings fall into the guard bands (common practice, no source).""")
_code("quantity-misspelt", "warning", "a value bears a name that looks like a slip", """
    No figure and no declared item takes in a value of that name, and a known name differs from it by a letter or two. Write the known name.""")
_code("title-pattern", "error", "the title does not say that this is a replica, or when it was completed", """
    A replica is named by its builder, then by what it copies, and dated by its own completion: (Builder) replica of (maker, model, year), completed
    (year). The word replica, reproduction or copy must stand in the title, and so must the year of completion.""")
_code("statement-silent", "error", "the statement does not say that this machine is a replica", """
    The statement is the first thing a buyer reads. The word replica, reproduction or copy must stand in it.""")
