"""What is weighed when places are chosen: the price of each thing that a reader would stumble over.

All of it is judgement (common practice, no source), set by looking at sheets. Lengths that are drawing practice, such as tiers
and arrows, stand with the placing that they describe.
"""

from __future__ import annotations

from dataclasses import dataclass

HARD = 1e6
"""Cost of what must never be printed: no judgement, only more than all else together."""


@dataclass(frozen=True, slots=True)
class Weights:
    """Costs without a unit, to be compared with each other; of lengths, for each mm on paper."""

    # Where a dimension line stands on a view.
    view_tier: float = 1.2               # each tier farther out
    view_reach: float = 0.06             # each mm of extension line
    inside_view: float = 9.0             # it stands within the view's own box
    inside_step: float = 1.0             # and so many steps out from its feature there
    touching: float = 6.0                # it stands in a recess, where an arrow touches the part's own edge
    touching_aside: float = 0.5          # and not in the best place there
    later_view: float = 0.5              # the top view instead of the front view, the side view instead of the top view
    shape: float = 55.0                  # the view shows nothing of the feature's shape
    hidden_end: float = 100.0            # measured to a hidden line: a last resort
    side_axis: float = 12.0              # an axis located where it is not seen as a circle
    along_cylinder: float = 7.0          # a diameter across a cylinder's side, not at its circle
    past_stranger: float = 30.0          # an axis' line starts past an edge, an edge's past a centre line, and seems to be theirs

    # Where a dimension line stands on a pictorial.
    tier: float = 1.0                    # each tier farther out
    reach: float = 0.07                  # each mm of extension line
    beside_feature: float = 1.5          # it stands beside its feature, not beyond the part
    beside_step: float = 1.0             # and so many steps out from it there
    rear_rim: float = 14.0               # centre lines cross in a rim that is not the foremost
    unmarked: float = 30.0               # the part hides an axis' centre, so that no crossing of centre lines tells where it is
    touching_edge: float = 6.0           # an arrow touches an edge of the part, over a face of it
    midway: float = 9.0                  # an extension line starts midway along an edge, level with the other end
    no_corner: float = 25.0              # and there is a corner at neither end: it looks detached
    smooth: float = 18.0                 # an extension line along the seam where a face runs into a round one: there is no edge
    leans_back: float = 8.0              # figures that would lean back in the plane of their size, and stand square to it

    # How an extension line on a pictorial may be misread.
    seems_edge: float = 12.0             # it seems to come from an edge of another level that lies behind its start
    goes_on: float = 5.0                 # it goes on over the part where an edge ends, and seems to be its end
    hidden_run: float = 1.2              # each mm that the part would hide: drawn, it seems to lie on the face before it
    most_hidden: float = 60.0            # beyond which it makes no difference
    strange_centre: float = 25.0         # it runs through the centre of a hole or boss of another level

    # Where figures stand.
    not_midway: float = 5.0              # aside of the middle of their line
    staggered: float = 1.5               # and if they stand upright, so that those of dimension lines side by side keep apart
    outside_space: float = 1.5           # they, or their arrows, beside a space that is too small for them
    within: float = 3.0                  # within the part's outline

    # Leaders and their notes.
    leader_length: float = 0.12          # each mm of a leader
    leader_over: float = 0.05            # each mm of it over the part
    arc_end: float = 4.0                 # it points at the end of an arc, where that runs into another line
    view_turn: float = 0.2               # each direction tried before it on a view
    turn: float = 0.01                   # each place round the rim before it on a pictorial
    rim_unseen: float = 3.0              # nothing of the rim shows; of one that shows in part, the share that does not
    no_rim: float = 1.0                  # it points at an edge that is no rim

    # Angles.
    angle: float = 3.0                   # an arc, to begin with
    arc_radius: float = 0.1              # each mm of its radius
    within_arc: float = 2.0              # figures inside the arc

    # The arrow of sight, and names of views.
    sight_distance: float = 0.15         # each mm from the part to the arrow's tip
    sight_aside: tuple[float, ...] = (0.0, 0.4, 0.5, 0.9, 1.0, 8.0, 8.0)    # it aims at the middle of the front, or beside it
    sight_higher: float = 0.4            # each height at which it aims tried before
    sight_beside: float = 10.0           # it stands beside the part, not before it
    sight_over: float = 2.0              # each mm over the part: it should stand before it
    name_tier: float = 1.0               # each tier a view's name stands farther out
    name_over: float = 16.0              # it stands over its view: under the view above it would seem to be that one's
    name_aside: tuple[float, ...] = (5.0, 8.0, 10.0)    # a little aside of the middle; beside figures; level with the view's edge

    # What a line crosses, covers or touches of the drawing.
    over: float = 0.22                   # each mm of a dimension's lines over the part
    right_across: float = 3.0            # each mm more of an extension line that crosses the part for long, on a pictorial
    long_way: float = 8.0                # mm of an extension line over the part on a pictorial beyond which it is so
    long_way_view: float = 5.0           # and on a view
    right_across_view: float = 3.0       # and on a view
    cross_visible: float = 130.0         # a dimension line crosses a visible line
    line_curve_cross: float = 20.0       # and more, if that is a curve
    extension_cross: float = 2.5         # an extension line does
    curve_cross: float = 2.5             # and more, if that is a curve: a line through a hole seems to be of it
    leader_cross: float = 2.0            # a leader does
    cross_thin: float = 0.6              # any of them crosses a hidden or centre line
    cross_barred: float = 4.0            # an extension line crosses a line that no dimension line may
    goes_on_as_line: float = 30.0        # a dimension line stands in line with an outline that begins where it ends
    edge_goes_on: float = 25.0           # an extension line goes on from an edge over the part, on a pictorial, for long
    near_line: float = 30.0              # an extension line runs beside a line for so long that both read as one
    starts_on_line: float = 20.0         # an extension line starts on, or too near, a line that is not its own
    ends_on_line: float = 30.0           # an extension line ends on a line that is not its own, and seems to go on as that
    brushes_curve: float = 12.0          # it runs along a curve, as a tangent does, and reads as one line with it
    passes_corner: float = 20.0          # it runs through a strange corner; extension lines on views may
    turns_on_line: float = 12.0          # a leader's shoulder begins or ends on a line
    turns_near_line: float = 16.0        # or all but on an outline
    figures_near_line: float = 16.0      # figures stand close to an outline
    arrow_on_line: float = 12.0          # an arrow seems to end at a line that is not its own

    # Two sizes together.
    line_through_extension: float = 45.0     # a dimension line crosses the other's extension line
    leader_through_extension: float = 24.0    # a leader does
    extensions_cross: float = 1.5            # extension lines cross
    extensions_close: float = 30.0           # extension lines run beside each other, but not in one line
    lined_up: float = 16.0                   # an extension line seems to come from a line of another level behind its start
    arrow_at_line: float = 20.0              # an arrow or a leader's shoulder seems to belong to a line of the other
    arc_at_line: float = 10.0                # each chord of an angle's arc that is near a dimension line of the other
    ends_at_line: float = 20.0               # an extension line ends at a dimension line of the other, and seems to be its
    arrow_passed: float = 40.0               # it ends on an extension line of a size along another axis that goes on
    arrows_meet: float = 30.0                # arrows that are no links of a chain meet in one point
    seem_chain: float = 20.0                 # sizes in one line seem links of a chain, and measure from different levels
    notes_close: float = 20.0                # two notes read as one
    figures_close: float = 15.0              # figures stand so near beside each other that they read as one number
    figures_at_line: float = 20.0            # figures stand so near another's dimension line that they seem to be its
    figures_by_extension: float = 12.0       # figures stand all but on another's extension line
    name_within: float = 10.0                # a view's name stands between the view and a dimension line
    names_uneven: float = 6.0            # names of views in one row at different heights, each tier that they differ
    shorter_outside: float = 12.0            # a shorter size stands outside a longer one on a pictorial
    shorter_outside_view: float = 40.0       # and on a view, which has room
    apart: float = 2.5                       # sizes along one axis stand on different views

    # The search.
    alike: float = 3.0                   # each cheaper way with figures in one neighbourhood, when it is chosen what to weigh
    aside_over: float = 1.0              # what costs more than this for each mm over the part is sorted by that from the first
    dear: float = 60.0                   # of a size: it stands over the part, or is run through by others; more is looked at then
    hopeless: float = 10.0               # a way so much dearer alone than the one chosen will not be made good by the others


WEIGHTS = Weights()
