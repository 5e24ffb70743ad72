"""The gate: of all that is known of a build, what one audience may see; the only place that compares audiences.

An Edition is built up from nothing. Of a form, the fields pass whose mark lets this audience see them; of results, the
fields listed; of logs, the kinds listed. What is withheld is no longer named in the fields of what is shown. Ids within
free text stay: text is its author's care.
"""

from dossier.audience.forms import NothingToShow as NothingToShow
from dossier.audience.gate import let_out as let_out
from dossier.audience.opened import Opened as Opened
from dossier.audience.opened import open_builds as open_builds
from dossier.record import bench_list as bench_list
from dossier.record import fingerprint_of as fingerprint_of
from dossier.record import instead_on_the_bench as instead_on_the_bench
from dossier.record import look_through as look_through
from dossier.record import on_the_bench as on_the_bench
