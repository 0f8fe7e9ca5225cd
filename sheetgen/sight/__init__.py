"""What a view shows: where ends and rims are seen, what the part covers, whether a pictorial can be read."""

from sheetgen.sight.aim import heights_before
from sheetgen.sight.anchors import Sight
from sheetgen.sight.crowding import crowded_pictorial, crowded_views
from sheetgen.sight.placed import PlacedView
from sheetgen.sight.readable import Pictorial, awkward_meetings, pictorial_faults
from sheetgen.sight.rims import Rim
from sheetgen.sight.shadow import Shadow
from sheetgen.sight.sights import Sights

__all__ = [
    "Pictorial", "PlacedView", "Rim", "Shadow", "Sight", "Sights", "awkward_meetings", "crowded_pictorial", "crowded_views",
    "heights_before", "pictorial_faults",
]
