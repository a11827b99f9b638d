/* boxes.c - the drawer box behind a front: width by its slide, height by its own clear space, depth by its slide's length.
 *
 * Width. Side-mount and the like: opening less a clearance at each side. Undermount: the inside is the opening less
 * 42 mm (or what the slide's sheet says), the outside that and two sides. Rounded down, but never so far that the slide's
 * tolerance is used up: then only to the finest mark of a rule (1/64 in, 0.1 mm), or not at all.
 *
 * What is cut stands on the step. Where box front or back stand between the sides it is their length that is rounded, and
 * the box is that and two sides wide; where both run the full width it is the box itself. In the same way the depth is
 * rounded so that the sides come out on the step, and the height where an applied bottom lies under them.
 *
 * Height. The box is at most its own clear space less what the slide asks below and above. Inside that limit the habit
 * holds: so much (1 1/4 in) lower than its front, or than its framed space; never nearer than the least of that habit, and
 * rounding to the step of heights never takes it further off than the most. The slide's own minimum wins.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

/* ---- under the bottom ------------------------------------------------------------------------------------------- */

dw_length dw_bottom_up(const struct dw_job *job, const struct dw_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(job, drawer);
    if (slide->kind == DW_UNDERMOUNT)
        return slide->recess;
    const bool grooved = drawer->box.bottom == DW_BOTTOM_GROOVED || drawer->box.bottom == DW_BOTTOM_SLID_IN;
    return grooved ? drawer->box.groove_up : 0;
}

dw_length dwi_box_under(const struct dw_job *job, const struct dw_drawer *drawer)
{
    return dw_bottom_up(job, drawer) + dwi_thickness(job, drawer->box.bottom_material);
}

/* A front that is the box front and stands inside its opening: the box is no wider than it. */
static bool is_inset_slab(const struct dw_drawer *drawer)
{
    return drawer->front.kind == DW_FRONT_IS_BOX_FRONT && drawer->fit.kind == DW_INSET;
}

/* ... and as high as it, unless its slide runs beneath it and wants room there, which the front then covers. */
static bool is_as_high_as_front(const struct dwi_sizer *sizer, const struct dw_drawer *drawer)
{
    const enum dw_slide_kind kind = dwi_slide_of(sizer->job, drawer)->kind;
    return is_inset_slab(drawer) && kind != DW_UNDERMOUNT && kind != DW_CENTER_MOUNT;
}

/* ---- the step --------------------------------------------------------------------------------------------------- */

bool dw_runs_full_width(const struct dw_corner *corner)
{
    switch (corner->joint) {
    case DW_BUTT:
    case DW_RABBET:
        return corner->cross_outside == DW_YES;
    case DW_DADO:
    case DW_RABBET_AND_DADO:
        return false;
    case DW_LOCK_RABBET:
    case DW_FINGER:
    case DW_HALF_BLIND:
    case DW_THROUGH:
    case DW_MITER:
    case DW_JOINT_INHERIT:
        return true;
    }
    return true;
}

/* What a size of the box is more than the piece that is cut to it. */
struct beyond {
    dw_length length;
    const char *words;
};

/* `size` rounded down so that the piece comes out on `step`. */
static dw_length down_beyond(dw_length size, const struct beyond *beyond, dw_length step)
{
    return dw_round_down(size - beyond->length, step) + beyond->length;
}

/* The same, figured. Whole steps beyond the piece make no difference, and are not told. */
static void round_beyond(const struct dwi_sizer *sizer, struct dwi_figuring *size, const struct beyond *beyond, const char *words, dw_length step)
{
    const bool apart = beyond->length % step != 0;
    if (apart)
        dwi_figure_subtract(size, dw_arena_format(sizer->arena, "less %s: what is cut stands on the step", beyond->words), beyond->length);
    dwi_figure_down_to(size, words, step);
    if (apart)
        dwi_figure_add(size, dw_arena_format(sizer->arena, "plus %s", beyond->words), beyond->length);
}

/* ---- width ------------------------------------------------------------------------------------------------------ */

/* Would a box `less` narrower than the slide's rule leave nothing of its tolerance? Wood on wood has none to use up. */
static bool uses_up(const struct dw_slide *slide, dw_length less)
{
    const bool wood = slide->kind == DW_RUNNER || slide->kind == DW_HAND_FITTED;
    return !wood && less > 0 && less >= slide->clearance_more;
}

/* What the box is wider than the piece that stands between its sides; nothing where both box front and back run the full
 * width, or where the front is the whole width of the box and has its own step. Depths that the job leaves to the rule are
 * on the step by themselves. */
static struct beyond beyond_cross(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_length width)
{
    const struct dw_box *box = &drawer->drawer->box;
    const bool slab = drawer->drawer->front.kind == DW_FRONT_IS_BOX_FRONT;
    const struct dw_corner *corner = slab || dw_runs_full_width(&box->front) ? &box->back : &box->front;
    if (dw_runs_full_width(corner) || (is_inset_slab(drawer->drawer) && width == drawer->front_width.value))
        return (struct beyond){.words = ""};
    const dw_length side = dwi_thickness(sizer->job, box->side_material);
    const bool let_in = corner->joint != DW_BUTT && corner->depth != DW_LENGTH_UNSET;
    const char *sides = dwi_count_of(sizer, 2, "side", "sides", side);
    return (struct beyond){.length = 2 * side - (let_in ? 2 * corner->depth : 0),
                           .words = let_in ? dw_arena_format(sizer->arena, "%s, but for what they take in", sides) : sides};
}

static void round_width(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, struct dwi_figuring *width)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const struct beyond beyond = beyond_cross(sizer, drawer, width->value);
    const dw_length rule = width->value;
    const dw_length step = dw_most(sizer->habits->box_step, 1);
    const dw_length mark = sizer->job->unit == DW_IN ? DW_INCH / 64 : DW_MM / 10;
    if (!uses_up(slide, rule - down_beyond(rule - sizer->habits->box_aim, &beyond, step))) {
        dwi_figure_subtract(width, "aimed under the slide's rule by", sizer->habits->box_aim);
        round_beyond(sizer, width, &beyond, "down to the step of boxes", step);
    } else if (!uses_up(slide, rule - down_beyond(rule, &beyond, step))) {
        round_beyond(sizer, width, &beyond, "down to the step of boxes", step);
    } else if (slide->clearance_more == 0 || !uses_up(slide, rule - down_beyond(rule, &beyond, mark))) {
        round_beyond(sizer, width, &beyond, "down to the finest mark of a rule: the slide leaves no more", mark);
    }
}

static void check_undermount(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const dw_length side = dwi_thickness(sizer->job, drawer->drawer->box.side_material);
    const enum dw_bottom bottom = drawer->drawer->box.bottom;
    if (slide->side_most > 0 && side > slide->side_most)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "side-too-thick", dwi_place(sizer, drawer, "box.sides"),
                 "sides of %s are too thick for %s\ntake sides of %s or less, or another slide", dwi_show(sizer, side), slide->name,
                 dwi_show(sizer, slide->side_most));
    if (bottom == DW_BOTTOM_RABBETED || bottom == DW_BOTTOM_APPLIED)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "no-recess", dwi_place(sizer, drawer, "box.bottom_style"),
                 "%s runs under a bottom that is set up by %s, and this one lies at the lower edge\nlet the bottom run in a groove",
                 slide->name, dwi_show(sizer, slide->recess));
    else if (drawer->drawer->box.groove_up != slide->recess)
        dw_warn(sizer->faults, "recess", dwi_place(sizer, drawer, "box.groove_up"),
                "the groove is asked for %s up, and %s wants the bottom %s up: it is set there\nask for no other height, or take another slide",
                dwi_show(sizer, drawer->drawer->box.groove_up), slide->name, dwi_show(sizer, slide->recess));
}

/* The part of the opening's width that the box and its slides share: less the room for hinges. */
static dw_length width_to_use(const struct dw_sized_case *sized, const struct dw_sized_drawer *drawer)
{
    return drawer->space.width - dwi_case_hinge_room(sized->source, drawer->bank_index, 0) -
           dwi_case_hinge_room(sized->source, drawer->bank_index, 1);
}

/* Opening less what the slides ask; before any rounding. */
static struct dwi_figuring width_by_rule(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_length usable)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const dw_length side = dwi_thickness(sizer->job, drawer->drawer->box.side_material);
    struct dwi_figuring width = dwi_figure_start(sizer->arena, "box width", "opening width", drawer->space.width);
    dwi_figure_subtract(&width, "less the room for hinges", drawer->space.width - usable);
    if (slide->kind == DW_UNDERMOUNT) {
        dwi_figure_subtract(&width, "less what the undermount slides ask: the inside of the box", slide->inside_less);
        dwi_figure_add(&width, dwi_count_of(sizer, 2, "side", "sides", side), 2 * side);
    } else {
        const char *clearances = dwi_count_of(sizer, 2, "clearance", "clearances", slide->clearance);
        dwi_figure_subtract(&width, dw_arena_format(sizer->arena, "less %s", clearances), 2 * slide->clearance);
    }
    if (is_inset_slab(drawer->drawer))
        dwi_figure_at_most(&width, "no wider than its front", drawer->front_width.value);
    return width;
}

static void size_inside_width(const struct dwi_sizer *sizer, struct dw_sized_drawer *drawer)
{
    const dw_length side = dwi_thickness(sizer->job, drawer->drawer->box.side_material);
    struct dwi_figuring inside = dwi_figure_from(sizer->arena, "inside width", "box width", &drawer->box_width);
    dwi_figure_subtract(&inside, dw_arena_format(sizer->arena, "less %s", dwi_count_of(sizer, 2, "side", "sides", side)), 2 * side);
    drawer->inside_width = dwi_figure_done(&inside);
}

static void size_width(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank,
                       struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const dw_length usable = width_to_use(sized, drawer);
    const dw_length taper = dwi_readings_taper(sized->source, bank->bank);
    struct dwi_figuring width = width_by_rule(sizer, drawer, usable);
    const dw_length rule = width.value;
    round_width(sizer, drawer, &width);
    drawer->box_width = dwi_figure_done(&width);
    drawer->side_clearance = (usable - width.value) / 2;
    drawer->packing[0] = dwi_case_packing(sized->source, drawer->bank_index, 0);
    drawer->packing[1] = dwi_case_packing(sized->source, drawer->bank_index, 1);
    if (taper > 0 && slide->kind != DW_HAND_FITTED)
        drawer->shim = dw_most(rule - width.value + taper - slide->clearance_more, 0) / 2;
    size_inside_width(sizer, drawer);
    if (slide->kind == DW_UNDERMOUNT)
        check_undermount(sizer, drawer);
}

/* ---- height ----------------------------------------------------------------------------------------------------- */

static bool has_rail_or_end_above(const struct dw_sized_bank *bank, size_t i)
{
    return i == 0 || dwi_is_rail(bank->bank->drawers[i - 1].rail_below.kind);
}

static bool is_framed(const struct dw_sized_bank *bank, size_t i)
{
    return has_rail_or_end_above(bank, i) && (i + 1 == bank->drawer_count || has_rail_or_end_above(bank, i + 1));
}

/* The habit's height, rounded inside the limit. */
static struct dwi_figuring height_by_habit(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank,
                                           const struct dw_sized_drawer *drawer, dw_length limit)
{
    const struct dw_habits *habits = sizer->habits;
    const bool by_space = is_framed(bank, drawer->drawer_index) && drawer->space.height < drawer->front_height.value;
    const dw_length reference = by_space ? drawer->space.height : drawer->front_height.value;
    struct dwi_figuring height = dwi_figure_start(sizer->arena, "box height", by_space ? "clear height of its space" : "front height", reference);
    dwi_figure_subtract(&height, "less what a box is lower by habit", habits->box_less);
    dwi_figure_at_most(&height, "the least that it is lower", reference - habits->box_less_least);
    dwi_figure_at_most(&height, "its space less the room the slide asks below and above", limit);
    const dw_length lowest = reference - habits->box_less_most;
    const dw_length coarse = dw_round_down(height.value, dw_most(habits->box_height_step, 1));
    if (coarse < lowest && height.value >= lowest)
        dwi_figure_down_to(&height, "down to the step of boxes: the step of heights would take too much", habits->box_step);
    else
        dwi_figure_down_to(&height, "down to the step of box heights", habits->box_height_step);
    return height;
}

static struct dwi_figuring height_of_slab(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_length limit)
{
    if (is_as_high_as_front(sizer, drawer->drawer))
        return dwi_figure_from(sizer->arena, "box height", "the front is the box front", &drawer->front_height);
    struct dwi_figuring height = dwi_figure_start(sizer->arena, "box height", "clear height of its space", drawer->space.height);
    dwi_figure_subtract(&height, "less the room the slide asks below and above", drawer->space.height - limit);
    dwi_figure_down_to(&height, "down to the step of boxes", sizer->habits->box_step);
    return height;
}

static void bound_height(struct dwi_figuring *height, const struct dw_box *box, const struct dw_slide *slide)
{
    if (box->height_least != DW_LENGTH_UNSET)
        dwi_figure_at_least(height, "at least, as told", box->height_least);
    if (box->height_most != DW_LENGTH_UNSET)
        dwi_figure_at_most(height, "at most, as told", box->height_most);
    dwi_figure_at_least(height, "the least the slide takes", slide->box_least);
}

/* Over an applied bottom the sides come out on the step, unless the front is the box front and gives the height. */
static void round_height(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, struct dwi_figuring *height)
{
    const struct beyond bottom = {.length = dwi_thickness(sizer->job, drawer->drawer->box.bottom_material), .words = "the bottom beneath the sides"};
    const dw_length step = dw_most(sizer->habits->box_step, 1);
    const bool free = drawer->drawer->box.bottom == DW_BOTTOM_APPLIED && !is_as_high_as_front(sizer, drawer->drawer);
    if (free && height->value != down_beyond(height->value, &bottom, step))
        round_beyond(sizer, height, &bottom, "down to the step of boxes", step);
}

/* A box must go in under the top of its space, and leave above it what its slide asks; a told height may leave less, and is warned of. */
static void check_height(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_length height, dw_length limit)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const dw_length room = drawer->space.height - slide->below;
    const dw_length under = dwi_box_under(sizer->job, drawer->drawer);
    const bool told = drawer->drawer->box.height != DW_LENGTH_UNSET;
    if (height <= under)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "box-no-room", drawer->address,
                 "a box %s high has no room over its bottom, which takes %s\nraise the front", dwi_show(sizer, height), dwi_show(sizer, under));
    else if (height > limit && told && height <= room)
        dw_warn(sizer->faults, "tip-in", dwi_place(sizer, drawer, "box.height"),
                "a box %s high leaves %s above it, and the slide asks %s to lift or tip the drawer in\nat most %s leaves that room",
                dwi_show(sizer, height), dwi_show(sizer, room - height), dwi_show(sizer, slide->above), dwi_show(sizer, limit));
    else if (height > limit)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "box-no-room", drawer->address,
                 "a box %s high does not go into a space of %s less %s below and %s above it: at most %s\n"
                 "raise the front by %s, or take a lower box or slide",
                 dwi_show(sizer, height), dwi_show(sizer, drawer->space.height), dwi_show(sizer, slide->below),
                 dwi_show(sizer, slide->above), dwi_show(sizer, limit), dwi_show(sizer, height - limit));
}

/* The inside height, and what was asked of it. */
static void size_inside_height(const struct dwi_sizer *sizer, struct dw_sized_drawer *drawer)
{
    const struct dw_height *asked = &drawer->drawer->height;
    struct dwi_figuring inside = dwi_figure_from(sizer->arena, "inside height", "box height", &drawer->box_height);
    dwi_figure_subtract(&inside, "less what is under the bottom", dw_bottom_up(sizer->job, drawer->drawer));
    dwi_figure_subtract(&inside, "less the bottom", dwi_thickness(sizer->job, drawer->drawer->box.bottom_material));
    drawer->inside_height = dwi_figure_done(&inside);
    if (asked->rule == DW_HEIGHT_INSIDE && inside.value < asked->length)
        dw_warn(sizer->faults, "inside-low", dwi_place(sizer, drawer, "box.height"),
                "the box is told to be %s high, and gives %s inside where %s are wanted\nleave its height to the rule, or let it be higher by %s",
                dwi_show(sizer, drawer->box_height.value), dwi_show(sizer, inside.value), dwi_show(sizer, asked->length),
                dwi_show(sizer, asked->length - inside.value));
}

static struct dw_figure height_of_box(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer,
                                      dw_length limit)
{
    const struct dw_box *box = &drawer->drawer->box;
    const bool slab = drawer->drawer->front.kind == DW_FRONT_IS_BOX_FRONT;
    struct dwi_figuring height;
    if (box->height != DW_LENGTH_UNSET) {
        height = dwi_figure_start(sizer->arena, "box height", "as given", box->height);
    } else {
        height = slab ? height_of_slab(sizer, drawer, limit) : height_by_habit(sizer, bank, drawer, limit);
        bound_height(&height, box, dwi_slide_of(sizer->job, drawer->drawer));
    }
    round_height(sizer, drawer, &height);
    return dwi_figure_done(&height);
}

static void size_height(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const bool as_high = is_as_high_as_front(sizer, drawer->drawer);
    const dw_length limit = as_high ? drawer->front_height.value : drawer->space.height - slide->below - slide->above;
    const dw_length told = drawer->drawer->box.height;
    drawer->box_height = height_of_box(sizer, bank, drawer, limit);
    if (told != DW_LENGTH_UNSET && told < slide->box_least)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "box-too-low", dwi_place(sizer, drawer, "box.height"),
                 "a box %s high is too low for %s\nmake it %s or higher", dwi_show(sizer, told), slide->name, dwi_show(sizer, slide->box_least));
    check_height(sizer, drawer, drawer->box_height.value, limit);
    size_inside_height(sizer, drawer);
    drawer->box.y = as_high ? drawer->front.y : drawer->space.y + slide->below;
}

/* ---- depth ------------------------------------------------------------------------------------------------------ */

/* As deep as the case lets it. */
static struct dwi_figuring deepest(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer)
{
    struct dwi_figuring depth = dwi_figure_start(sizer->arena, "box depth", "inside depth, from the face to the back",
                                                 bank->opening_depth.value);
    dwi_figure_subtract(&depth, "less the set-back", drawer->set_back.value);
    dwi_figure_add(&depth, "the front is part of the box", dwi_slab_thickness(sizer->job, drawer->drawer));
    dwi_figure_subtract(&depth, "less the free depth behind", dwi_slide_of(sizer->job, drawer->drawer)->rear);
    return depth;
}

static struct dwi_figuring depth_told(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer)
{
    const dw_length told = drawer->drawer->box.depth;
    if (bank->opening_depth.value != DW_LENGTH_UNSET) {
        const dw_length most = deepest(sizer, bank, drawer).value;
        if (told > most)
            dw_error(sizer->faults, DW_IMPOSSIBLE, "box-too-deep", dwi_place(sizer, drawer, "box.depth"), "a box %s deep does not go in: at most %s\nmake it %s less deep",
                     dwi_show(sizer, told), dwi_show(sizer, most), dwi_show(sizer, told - most));
    }
    return dwi_figure_start(sizer->arena, "box depth", "as given", told);
}

/* How far a side stops short of the box's end, but for what the rule gives in whole steps. */
static dw_length stop_of(const struct dw_corner *corner, dw_length cross)
{
    const bool full = dw_runs_full_width(corner);
    if (corner->joint == DW_BUTT)
        return full ? cross : 0;
    if (corner->joint == DW_RABBET)
        return full ? cross - (corner->depth == DW_LENGTH_UNSET ? 0 : corner->depth) : 0;
    const bool lapped = corner->joint == DW_LOCK_RABBET || corner->joint == DW_HALF_BLIND;
    return lapped && corner->lap != DW_LENGTH_UNSET ? corner->lap : 0;
}

/* Rounded so that the sides come out on the step. */
static void round_depth(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, struct dwi_figuring *depth)
{
    const struct dw_box *box = &drawer->drawer->box;
    const dw_length slab = dwi_slab_thickness(sizer->job, drawer->drawer);
    const dw_length front = slab > 0 ? slab : dwi_thickness(sizer->job, box->front_material);
    const struct beyond stops = {.length = stop_of(&box->front, front) + stop_of(&box->back, dwi_thickness(sizer->job, box->back_material)),
                                 .words = "what the sides stop short of the ends"};
    const dw_length step = dw_most(sizer->habits->box_step, 1);
    if (depth->value != down_beyond(depth->value, &stops, step))
        round_beyond(sizer, depth, &stops, "down to the step of boxes", step);
}

static void size_depth(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, struct dw_sized_drawer *drawer)
{
    const struct dw_box *box = &drawer->drawer->box;
    struct dwi_figuring depth;
    if (box->depth != DW_LENGTH_UNSET) {
        depth = depth_told(sizer, bank, drawer);
    } else if (drawer->slide_length.step_count > 0) {
        depth = dwi_figure_from(sizer->arena, "box depth", "as deep as its slide is long", &drawer->slide_length);
        dwi_figure_add(&depth, "the front is part of the box", dwi_slab_thickness(sizer->job, drawer->drawer));
    } else {
        depth = deepest(sizer, bank, drawer);
    }
    round_depth(sizer, drawer, &depth);
    drawer->box_depth = dwi_figure_done(&depth);
    const dw_length slab = dwi_slab_thickness(sizer->job, drawer->drawer);
    struct dwi_figuring inside = dwi_figure_from(sizer->arena, "inside depth", "box depth", &drawer->box_depth);
    dwi_figure_subtract(&inside, slab > 0 ? "less the front" : "less the box front",
                        slab > 0 ? slab : dwi_thickness(sizer->job, box->front_material));
    dwi_figure_subtract(&inside, "less the back", dwi_thickness(sizer->job, box->back_material));
    drawer->inside_depth = dwi_figure_done(&inside);
}

/* Is anything left between the sides, and between box front and back? */
static void check_inside(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer)
{
    const dw_length wide = drawer->inside_width.value, deep = drawer->inside_depth.value;
    if (wide <= 0)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "box-no-room", drawer->address,
                 "a space %s wide leaves no room between the sides of a box: slides and sides alone take %s\nmake the opening wider by more than %s, or take thinner sides or another slide",
                 dwi_show(sizer, drawer->space.width), dwi_show(sizer, drawer->space.width - wide), dwi_show(sizer, -wide));
    if (drawer->inside_depth.step_count > 0 && deep <= 0)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "box-no-room", drawer->address,
                 "a box %s deep leaves no room between its front and its back, which take %s\nmake the box deeper by more than %s, or of thinner stuff",
                 dwi_show(sizer, drawer->box_depth.value), dwi_show(sizer, drawer->box_depth.value - deep), dwi_show(sizer, -deep));
}

void dwi_box_fit(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank,
                 struct dw_sized_drawer *drawer, bool has_slide)
{
    size_width(sizer, sized, bank, drawer);
    size_height(sizer, bank, drawer);
    if (has_slide)
        size_depth(sizer, bank, drawer);
    drawer->box.x = drawer->space.x + dwi_case_hinge_room(sized->source, drawer->bank_index, 0) + drawer->side_clearance;
    drawer->box.width = drawer->box_width.value;
    drawer->box.height = drawer->box_height.value;
    check_inside(sizer, drawer);
}

void dwi_box_try_width(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank,
                       struct dw_sized_drawer *drawer)
{
    if (is_inset_slab(drawer->drawer))
        return; /* bounded by its front, which has no size yet */
    drawer->space.width = bank->opening.width;
    size_width(sizer, sized, bank, drawer);
    check_inside(sizer, drawer);
}
