/* joint_works.c - the cuts of each joint, as marks for the shop: kind, place, width, depth, number, and one line of words.
 *
 * Places are named as the box stands: a side has a front end and a rear end, a cross piece a left and a right end, all pieces an inside and
 * an outside face. Where both ends are cut alike the work says "both ends". A front that is the box front may run past the box; its cuts
 * then start that much in from its ends.
 */
#include "making.h"

#include <inttypes.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* One end of one box while its works are listed. */
struct corner_work {
    struct dwi_making *making;
    const struct dwi_box *box;
    const struct dwi_corner *corner;
    const char *end;        /* of the sides: "front end", "rear end" */
    const char *address;
    dw_length height;       /* over which the pieces meet */
    const char *from;       /* the edge from which fingers and tails are set out */
    bool is_repeat;         /* the rear end, cut as the front end was: the sides need no second entry, the maker no second warning */
    struct dwi_works *side, *cross;
};

static const char *show(const struct corner_work *work, dw_length length)
{
    return dwi_say(work->making, length);
}

/* Adds a cut; its words are led by its place. */
static void add(const struct corner_work *work, struct dwi_works *works, struct dw_part_work cut, const char *face, const char *end)
{
    struct dw_arena *arena = work->making->arena;
    cut.where = face[0] == '\0' ? end : dw_arena_format(arena, "%s, %s", face, end);
    cut.words = dw_arena_format(arena, "%s: %s", cut.where, cut.words);
    dwi_add_work(work->making, works, cut);
}

static void add_side(const struct corner_work *work, struct dw_part_work cut, const char *face)
{
    add(work, work->side, cut, face, work->end);
}

/* Is the cross piece the drawer's front, which may run past the box and whose face is seen? */
static bool is_show_front(const struct corner_work *work)
{
    return work->box->is_front && work->corner == &work->box->corners[0];
}

/* On both ends of the cross piece, at the overhang of each. `make` gives the work for one overhang. */
static void add_cross(const struct corner_work *work, struct dw_part_work (*make)(const struct corner_work *, dw_length overhang),
                      const char *face)
{
    const dw_length left = is_show_front(work) ? work->box->overhang[DW_LEFT] : 0;
    const dw_length right = is_show_front(work) ? work->box->overhang[DW_RIGHT] : 0;
    if (left == right) {
        add(work, work->cross, make(work, left), face, "both ends");
        return;
    }
    add(work, work->cross, make(work, left), face, "left end");
    add(work, work->cross, make(work, right), face, "right end");
}

/* ", 3/8 from the end" for a cut that stands off from its end. */
static const char *from_words(const struct corner_work *work, dw_length from)
{
    return from == 0 ? "" : dw_arena_format(work->making->arena, ", %s from the end", show(work, from));
}

static struct dw_part_work plain_cut(const struct corner_work *work, enum dw_work_kind kind, dw_length from, dw_length width, dw_length depth)
{
    const char *words = dw_arena_format(work->making->arena, "%s %s wide, %s deep%s", dw_work_word(kind), show(work, width), show(work, depth),
                                        from_words(work, from));
    return (struct dw_part_work){.kind = kind, .from_edge = from, .width = width, .depth = depth, .number = 1, .words = words};
}

/* ---- butt, and fasteners through other joints ------------------------------------------------------------ */

/* Screws or dowels through the piece that runs past, into the end of the other: two up to 4 in (100 mm) of height, one more for every 3 in
 * (75 mm) beyond, the outer ones 3/4 in (20 mm) from the edges or a quarter of a low height, the others even to 1/16 in (1 mm). Nothing goes through the face of a front. Common practice, no source. */
static struct dw_part_work fasteners(const struct corner_work *work, dw_length from)
{
    const bool inches = work->making->job->unit == DW_IN;
    const dw_length edge = dw_least(inches ? 3 * DW_INCH / 4 : 20 * DW_MM, work->height / 4);
    const dw_length every = inches ? 3 * DW_INCH : 75 * DW_MM;
    const dw_length over = work->height - (inches ? 4 * DW_INCH : 100 * DW_MM);
    const int64_t number = 2 + dw_most(0, over + every - 1) / every;
    const dw_length pitch = dw_round_down((work->height - 2 * edge) / (number - 1), inches ? DW_INCH / 16 : DW_MM);
    const char *words = dw_arena_format(work->making->arena,
                                        "%" PRId64 " %s, %s from the end, the first %s from the edge, then every %s", number,
                                        is_show_front(work) && work->corner->outside ? "dowels or pocket screws" : "screws or dowels",
                                        show(work, from), show(work, edge), show(work, pitch));
    return (struct dw_part_work){.kind = DW_WORK_HOLES, .from_edge = from, .pitch = pitch, .number = number, .words = words};
}

static struct dw_part_work cross_fasteners(const struct corner_work *work, dw_length overhang)
{
    return fasteners(work, overhang + work->corner->side / 2);
}

static void fasten(const struct corner_work *work)
{
    const struct dwi_corner *corner = work->corner;
    if (corner->outside)
        add_cross(work, cross_fasteners, is_show_front(work) ? "inside face" : "outside face");
    else
        add_side(work, fasteners(work, corner->inset + corner->cross / 2), "outside face");
}

/* ---- rabbets and dadoes ---------------------------------------------------------------------------------- */

/* Wood that stands beside a dado at the end of a front; less would break off, and the dado is a rabbet (common practice, no source). */
static const dw_length LEAST_BESIDE_DADO = DW_INCH / 8;

static struct dw_part_work cross_rabbet(const struct corner_work *work, dw_length overhang)
{
    if (overhang < LEAST_BESIDE_DADO)
        return plain_cut(work, DW_WORK_RABBET, 0, overhang + work->corner->side, work->corner->depth);
    return plain_cut(work, DW_WORK_DADO, overhang, work->corner->side, work->corner->depth);
}

static void rabbet(const struct corner_work *work)
{
    if (work->corner->outside)
        add_cross(work, cross_rabbet, "inside face");
    else
        add_side(work, plain_cut(work, DW_WORK_RABBET, 0, work->corner->cross, work->corner->depth), "inside face");
}

static struct dw_part_work tongue_rabbet(const struct corner_work *work, dw_length overhang)
{
    const struct dwi_corner *corner = work->corner;
    struct dw_part_work cut = plain_cut(work, DW_WORK_RABBET, overhang, corner->depth, corner->cross - corner->tongue);
    cut.words = dw_arena_format(work->making->arena, "%s, leaving a tongue %s thick", cut.words, show(work, corner->tongue));
    return cut;
}

/* The tongue is at the inside face of the cross piece, so the dado lies behind the part that is rabbeted away. */
static void rabbet_and_dado(const struct corner_work *work)
{
    const struct dwi_corner *corner = work->corner;
    add_side(work, plain_cut(work, DW_WORK_DADO, corner->cross - corner->tongue, corner->tongue, corner->depth), "inside face");
    add_cross(work, tongue_rabbet, "outside face");
}

static struct dw_part_work lock_slot(const struct corner_work *work, dw_length overhang)
{
    const struct dwi_corner *corner = work->corner;
    const dw_length width = corner->cross - corner->lap - corner->tongue;
    const char *words = dw_arena_format(work->making->arena, "slot %s wide, %s deep into the end, leaving a lip %s thick", show(work, width),
                                        show(work, overhang + corner->side), show(work, corner->lap));
    return (struct dw_part_work){.kind = DW_WORK_SLOT, .from_edge = corner->lap, .width = width, .depth = overhang + corner->side, .number = 1,
                                 .words = words};
}

static struct dw_part_work lock_trim(const struct corner_work *work, dw_length overhang)
{
    const struct dwi_corner *corner = work->corner;
    struct dw_part_work cut = plain_cut(work, DW_WORK_RABBET, 0, overhang + corner->side - corner->depth, corner->tongue);
    cut.words = dw_arena_format(work->making->arena, "%s: shortens the tongue to %s", cut.words, show(work, corner->depth));
    return cut;
}

static void lock_rabbet(const struct corner_work *work)
{
    const struct dwi_corner *corner = work->corner;
    add_side(work, plain_cut(work, DW_WORK_DADO, corner->cross - corner->lap - corner->tongue, corner->tongue, corner->depth), "inside face");
    add_cross(work, lock_slot, "end grain");
    add_cross(work, lock_trim, "inside face");
}

/* ---- fingers --------------------------------------------------------------------------------------------- */

static struct dw_part_work fingers_of(const struct corner_work *work, const struct dwi_spacing *spacing, int64_t number, dw_length depth,
                                      const char *first)
{
    const char *rest = spacing->rest == 0 ? "" : dw_arena_format(work->making->arena, "; %s over at the other edge", show(work, spacing->rest));
    const char *words =
        dw_arena_format(work->making->arena, "%" PRId64 " fingers %s wide, %s long, a %s first from the %s%s", number,
                        show(work, spacing->pitch), show(work, depth), first, work->from, rest);
    return (struct dw_part_work){.kind = DW_WORK_FINGERS, .width = spacing->pitch, .depth = depth, .pitch = 2 * spacing->pitch,
                                 .number = number, .words = words};
}

static void warn_of_rest(const struct corner_work *work, const struct dwi_spacing *spacing, const char *what)
{
    if (spacing->rest > 0 && !work->is_repeat)
        dw_warn(work->making->faults, "ends-short", work->address, "%s of %s leave %s of a height of %s\nheights that end well: %s and %s", what,
                dwi_say_unit(work->making, spacing->pitch), dwi_say_unit(work->making, spacing->rest),
                dwi_say_unit(work->making, work->height), dwi_say_unit(work->making, spacing->lower),
                dwi_say_unit(work->making, spacing->higher));
}

static void fingers(const struct corner_work *work)
{
    const struct dwi_corner *corner = work->corner;
    const dw_length finger = corner->pitch != DW_LENGTH_UNSET
                                 ? corner->pitch
                                 : dwi_finger_by_rule(dw_least(corner->side, corner->cross), work->making->job->unit);
    if (finger <= 0 || work->height / finger < 3) {
        dw_error(work->making->faults, DW_IMPOSSIBLE, "finger-wide", dw_address_key(work->making->arena, work->address, "pitch"),
                 "fingers of %s do not stand in a height of %s\nthree at least, so at most %s each", dwi_say_unit(work->making, finger),
                 dwi_say_unit(work->making, work->height),
                 dwi_say_unit(work->making, dw_round_down(work->height / 3, work->making->job->unit == DW_IN ? DW_INCH / 16 : DW_MM / 2)));
        return;
    }
    const struct dwi_spacing spacing = dwi_space_fingers(work->height, finger);
    warn_of_rest(work, &spacing, "fingers");
    add_side(work, fingers_of(work, &spacing, (spacing.number + 1) / 2, corner->cross, "finger"), "");
    add(work, work->cross, fingers_of(work, &spacing, spacing.number / 2, corner->side, "notch"), "", "both ends");
}

/* ---- dovetails ------------------------------------------------------------------------------------------- */

/* Tails three quarters of the pitch at their wide ends, pins a quarter at their narrow ones: common practice, no source. */
static void dovetails(const struct corner_work *work)
{
    const struct dwi_corner *corner = work->corner;
    struct dw_arena *arena = work->making->arena;
    const struct dwi_spacing spacing = dwi_space_tails(work->height, corner->pitch, work->making->job->unit);
    const dw_length tail_depth = corner->cross - (corner->joint == DW_HALF_BLIND ? corner->lap : 0);
    const dw_length wide = spacing.pitch * 3 / 4;
    const dw_length narrow = wide - 2 * tail_depth / corner->slope;
    if (spacing.number < 1 || narrow <= 0) {
        dw_error(work->making->faults, DW_IMPOSSIBLE, "tail-wide", dw_address_key(arena, work->address, "pitch"),
                 "tails at %s do not stand in a height of %s, or run to a point at a slope of 1 : %" PRId64
                 "\na pitch of at most %s, or a flatter slope",
                 dwi_say_unit(work->making, spacing.pitch), dwi_say_unit(work->making, work->height), corner->slope,
                 dwi_say_unit(work->making, work->height));
        return;
    }
    warn_of_rest(work, &spacing, "tails at a pitch");
    const int64_t angle = dwi_slope_hundredths(corner->slope);
    const char *slope = dw_arena_format(arena, "slope 1 : %" PRId64 " (%" PRId64 ".%" PRId64 " degrees)", corner->slope, (angle + 5) / 100,
                                        (angle + 5) / 10 % 10);
    const char *tails = dw_arena_format(arena,
                                        "%" PRId64 " tails, %s center to center from a half pin at the %s, %s wide and %s at the root, %s long, %s",
                                        spacing.number, show(work, spacing.pitch), work->from, show(work, wide), show(work, narrow),
                                        show(work, tail_depth), slope);
    add_side(work, (struct dw_part_work){.kind = DW_WORK_TAILS, .from_edge = spacing.pitch / 2, .width = wide, .depth = tail_depth,
                                         .pitch = spacing.pitch, .number = spacing.number, .words = tails}, "");
    const char *pins = dw_arena_format(arena, "pins for %" PRId64 " tails, %s deep, marked from the side's tails, %s", spacing.number,
                                       show(work, corner->side), slope);
    add(work, work->cross, (struct dw_part_work){.kind = DW_WORK_PINS, .from_edge = spacing.pitch / 2, .width = spacing.pitch - wide,
                                                 .depth = corner->side, .pitch = spacing.pitch, .number = spacing.number, .words = pins}, "",
        "both ends");
}

/* ---- miter, and all together ----------------------------------------------------------------------------- */

static void miter(const struct corner_work *work)
{
    const struct dw_part_work cut = {.kind = DW_WORK_MITER, .depth = work->corner->side, .width = work->corner->side, .number = 1,
                                     .words = "miter at 45 degrees, the outside face keeps the full length"};
    add_side(work, cut, "");
    add(work, work->cross, cut, "", "both ends");
}

static void joint_cuts(const struct corner_work *work)
{
    switch (work->corner->joint) {
    case DW_BUTT:
        fasten(work);
        return;
    case DW_RABBET:
        rabbet(work);
        return;
    case DW_DADO:
        add_side(work, plain_cut(work, DW_WORK_DADO, work->corner->lap, work->corner->cross, work->corner->depth), "inside face");
        return;
    case DW_RABBET_AND_DADO:
        rabbet_and_dado(work);
        return;
    case DW_LOCK_RABBET:
        lock_rabbet(work);
        return;
    case DW_FINGER:
        fingers(work);
        return;
    case DW_HALF_BLIND:
    case DW_THROUGH:
        dovetails(work);
        return;
    case DW_MITER:
        miter(work);
        return;
    case DW_JOINT_INHERIT:
        return;
    }
}

static bool are_alike(const struct dwi_corner *a, const struct dwi_corner *b)
{
    return a->joint == b->joint && a->outside == b->outside && a->cross == b->cross && a->depth == b->depth && a->tongue == b->tongue &&
           a->lap == b->lap && a->pitch == b->pitch && a->slope == b->slope && a->fastened == b->fastened;
}

/* Does the height over which the pieces meet change the cuts? */
static bool goes_by_height(const struct dwi_corner *corner)
{
    return corner->joint == DW_FINGER || corner->joint == DW_HALF_BLIND || corner->joint == DW_THROUGH || corner->joint == DW_BUTT ||
           corner->fastened;
}

/* Sides whose ends are cut alike get one entry for both; the rear end then adds nothing to them. */
void dwi_joint_works(struct dwi_making *making, const struct dwi_box *box, int end, struct dwi_works *side, struct dwi_works *cross)
{
    const bool short_back = end == 1 && box->back_height.value < box->side_height.value;
    const bool alike = are_alike(&box->corners[0], &box->corners[1]) &&
                       (box->back_height.value == box->side_height.value || !goes_by_height(&box->corners[0]));
    struct dwi_works dropped = {0};
    const struct corner_work work = {.making = making,
                                     .box = box,
                                     .corner = &box->corners[end],
                                     .end = alike ? "both ends" : end == 0 ? "front end" : "rear end",
                                     .address = dw_address_key(making->arena, box->address, end == 0 ? "joint" : "back_joint"),
                                     .height = short_back ? box->back_height.value : box->side_height.value,
                                     .from = short_back ? "upper edge" : "lower edge",
                                     .is_repeat = alike && end == 1,
                                     .side = alike && end == 1 ? &dropped : side,
                                     .cross = cross};
    joint_cuts(&work);
    if (work.corner->fastened && work.corner->joint != DW_BUTT)
        fasten(&work);
}
