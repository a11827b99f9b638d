/* joints.c - what a corner does to the lengths of the pieces it joins.
 *
 * Whatever the joint, two figures settle the lengths at one end of a box: `stop`, how far the side ends inside the box's outer face,
 * and `reach`, how far the cross piece (box front or back) enters each side, so that
 *
 *     side  = box depth - stop at the front - stop at the back
 *     cross = box width - 2 x side thickness + 2 x reach
 *
 * with the thicknesses as measured. A third, `inset`, tells where the cross piece's outer face lies (a dado set in from the end).
 *
 *     joint              stop             reach    inset
 *     butt               0                0        0       (the side runs past the cross piece)
 *       cross outside    cross            side     0       (the cross piece runs past the side)
 *     rabbet             0                depth    0
 *       cross outside    cross - depth    side     0
 *     dado               0                depth    lap
 *     rabbet-and-dado    0                depth    0
 *     lock rabbet        lip              side     0
 *     half-blind         lap              side     0
 *     finger, through,   0                side     0
 *     miter
 *
 * In a rabbet of the side `depth` is what is cut away, and the cross piece's end fills it: it reaches in by that depth.
 *
 * Rules where the job gives no figure (shares of a thickness go down to the shop's step of boxes):
 *   rabbet and dado half the thickness deep       Router Workshop, "Dado & Groove": always one-half the thickness
 *   tongue half the cross piece                   Skill Builder "Rabbets, Dadoes and Grooves": 1/2 to 1/3 of the thickness
 *   lock rabbet, 3/4 front: lip 1/4, tongue 1/8   Woodsmith, "Locking Rabbet Joint": a third and a sixth of the front,
 *                                                 the tongue never less than a kerf of 1/8 in (common practice, no source)
 *   half-blind lap a quarter of the front         "Building Furniture", Fine Woodworking 2007: 3/16 left in a 3/4 front, 3/32 at least
 *   dado in from the end by the cross piece       common practice, no source
 *   slope 1 : 8                                   the usual advice for hardwood (1 : 6 for softwood)
 */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static const dw_length LEAST_LAP = 3 * DW_INCH / 32;

static dw_length given_or(dw_length given, dw_length rule)
{
    return given == DW_LENGTH_UNSET ? rule : given;
}

/* A share of a thickness, down to what the shop can set (its step of boxes), unless nothing would be left. */
static dw_length by_rule(const struct dwi_making *making, dw_length thickness, int64_t share)
{
    const dw_length exact = thickness / share;
    const dw_length step = making->job->shop.habits.box_step;
    const dw_length settable = step > 0 ? dw_round_down(exact, step) : exact;
    return settable > 0 ? settable : exact;
}

/* A lock rabbet's tongue by rule: a sixth of the front, but no less than a full kerf cuts. */
static dw_length lock_tongue(const struct dwi_making *making, dw_length cross)
{
    return dw_most(by_rule(making, cross, 6), making->job->unit == DW_IN ? DW_INCH / 8 : 3 * DW_MM);
}

static struct dwi_corner resolve(const struct dwi_making *making, const struct dw_corner *asked, dw_length side, dw_length cross)
{
    struct dwi_corner corner = {.joint = asked->joint,
                                .side = side,
                                .cross = cross,
                                .pitch = asked->pitch,
                                .slope = asked->slope == DW_UNSET || asked->slope == 0 ? 8 : asked->slope,
                                .fastened = asked->through_ends};
    corner.outside = dw_runs_full_width(asked);
    const bool cuts_cross = asked->joint == DW_RABBET && corner.outside;
    corner.depth = given_or(asked->depth, by_rule(making, cuts_cross ? cross : side, 2));
    const bool lock = asked->joint == DW_LOCK_RABBET;
    corner.tongue = given_or(asked->tongue, lock ? lock_tongue(making, cross) : by_rule(making, cross, 2));
    corner.lap = given_or(asked->lap, asked->joint == DW_DADO ? cross : by_rule(making, cross, lock ? 3 : 4));
    return corner;
}

static void settle_lengths(struct dwi_corner *corner)
{
    corner->reach = corner->outside ? corner->side : 0;
    switch (corner->joint) {
    case DW_BUTT:
        corner->stop = corner->outside ? corner->cross : 0;
        return;
    case DW_RABBET:
        corner->stop = corner->outside ? corner->cross - corner->depth : 0;
        corner->reach = corner->outside ? corner->side : corner->depth;
        return;
    case DW_DADO:
        corner->inset = corner->lap;
        corner->reach = corner->depth;
        return;
    case DW_RABBET_AND_DADO:
        corner->reach = corner->depth;
        return;
    case DW_LOCK_RABBET:
    case DW_HALF_BLIND:
        corner->stop = corner->lap;
        return;
    case DW_FINGER:
    case DW_THROUGH:
    case DW_MITER:
    case DW_JOINT_INHERIT:
        return;
    }
}

/* A cut `depth` deep into `thickness` of the piece called `what`: must leave wood, and should leave half. */
static void check_depth(struct dwi_making *making, const char *address, const char *cut, const char *what, dw_length depth,
                        dw_length thickness)
{
    const char *at = dw_address_key(making->arena, address, "depth");
    if (depth <= 0 || depth >= thickness)
        dw_error(making->faults, DW_IMPOSSIBLE, "joint-deep", at, "the %s of %s does not fit into a %s that measures %s\nat most half of it, %s",
                 cut, dwi_say_unit(making, depth), what, dwi_say_unit(making, thickness), dwi_say_unit(making, thickness / 2));
    else if (depth > thickness - depth)
        dw_warn(making->faults, "little-wood", at, "a %s %s deep leaves only %s of the %s\na depth of %s leaves half", cut,
                dwi_say_unit(making, depth), dwi_say_unit(making, thickness - depth), what, dwi_say_unit(making, thickness / 2));
}

static void check_tongue(struct dwi_making *making, const struct dwi_corner *corner, const char *address)
{
    const char *at = dw_address_key(making->arena, address, "tongue");
    const dw_length lip = corner->joint == DW_LOCK_RABBET ? corner->lap : 0;
    if (corner->tongue <= 0 || corner->tongue + lip >= corner->cross)
        dw_error(making->faults, DW_IMPOSSIBLE, "tongue-thick", at,
                 lip > 0 ? "a tongue of %s leaves no slot behind the lip in stock that measures %s\nat most %s, a sixth of it, by habit"
                         : "a tongue of %s does not fit stock that measures %s\nless than that; %s, half of it, by habit",
                 dwi_say_unit(making, corner->tongue), dwi_say_unit(making, corner->cross),
                 dwi_say_unit(making, corner->cross / (lip > 0 ? 6 : 2)));
}

static void check_lap(struct dwi_making *making, const struct dwi_corner *corner, const char *address)
{
    const char *at = dw_address_key(making->arena, address, "lap");
    if (corner->lap <= 0 || corner->lap >= corner->cross)
        dw_error(making->faults, DW_IMPOSSIBLE, "lap-thick", at, "a lap of %s does not fit a front that measures %s\n%s, a quarter of it, by habit",
                 dwi_say_unit(making, corner->lap), dwi_say_unit(making, corner->cross), dwi_say_unit(making, corner->cross / 4));
    else if (corner->joint == DW_HALF_BLIND && corner->lap < LEAST_LAP)
        dw_warn(making->faults, "lap-thin", at, "a lap of %s may break out\nat least %s", dwi_say_unit(making, corner->lap),
                dwi_say_unit(making, LEAST_LAP));
}

static void check_slope(struct dwi_making *making, const struct dwi_corner *corner, const char *address)
{
    if (corner->slope < 3 || corner->slope > 20)
        dw_error(making->faults, DW_IMPOSSIBLE, "slope", dw_address_key(making->arena, address, "slope"),
                 "a dovetail of 1 : %lld does not hold or does not stand\n6 for softwood, 8 for hardwood; 3 to 20 are taken",
                 (long long)corner->slope);
}

static void check_corner(struct dwi_making *making, const struct dwi_corner *corner, const char *address)
{
    switch (corner->joint) {
    case DW_RABBET:
        if (corner->outside)
            check_depth(making, address, "rabbet", "cross piece", corner->depth, corner->cross);
        else
            check_depth(making, address, "rabbet", "side", corner->depth, corner->side);
        return;
    case DW_RABBET_AND_DADO:
    case DW_LOCK_RABBET:
        check_tongue(making, corner, address);
        check_depth(making, address, "dado", "side", corner->depth, corner->side);
        return;
    case DW_DADO:
        check_depth(making, address, "dado", "side", corner->depth, corner->side);
        if (corner->lap < 0)
            dw_error(making->faults, DW_IMPOSSIBLE, "dado-outside", dw_address_key(making->arena, address, "lap"),
                     "the dado would start outside of the side\n0 or more; %s by habit", dwi_say_unit(making, corner->cross));
        return;
    case DW_HALF_BLIND:
        check_lap(making, corner, address);
        check_slope(making, corner, address);
        return;
    case DW_THROUGH:
        check_slope(making, corner, address);
        return;
    case DW_MITER:
        if (corner->side != corner->cross)
            dw_error(making->faults, DW_IMPOSSIBLE, "miter-unequal", dw_address_key(making->arena, address, "joint"),
                     "a miter at 45 degrees wants equal stock, but the side measures %s and the cross piece %s\n"
                     "one material for both, or another joint",
                     dwi_say_unit(making, corner->side), dwi_say_unit(making, corner->cross));
        return;
    case DW_BUTT:
    case DW_FINGER:
    case DW_JOINT_INHERIT:
        return;
    }
}

struct dwi_corner dwi_plan_corner(struct dwi_making *making, const struct dw_corner *asked, dw_length side, dw_length cross,
                                  const char *address)
{
    struct dwi_corner corner = resolve(making, asked, side, cross);
    check_corner(making, &corner, address);
    settle_lengths(&corner);
    return corner;
}

static const char *stop_words(const struct dwi_making *making, const struct dwi_corner *corner, const char *end)
{
    const char *what = corner->joint == DW_LOCK_RABBET  ? "lip"
                       : corner->joint == DW_HALF_BLIND ? "lap"
                       : corner->joint == DW_RABBET     ? "rest beside the rabbet"
                                                        : "thickness";
    return dw_arena_format(making->arena, "less the box %s's %s", end, what);
}

struct dw_figure dwi_side_length(const struct dwi_making *making, const struct dwi_box *box)
{
    struct dwi_reckoning sum = dwi_reckon(making->arena, "side length", "box outside depth", box->depth);
    dwi_reckon_less(&sum, stop_words(making, &box->corners[0], "front"), box->corners[0].stop);
    dwi_reckon_less(&sum, stop_words(making, &box->corners[1], "back"), box->corners[1].stop);
    return dwi_reckoned(&sum);
}

struct dw_figure dwi_cross_length(const struct dwi_making *making, const struct dwi_box *box, const struct dwi_corner *corner)
{
    const char *name = corner == &box->corners[0] ? "box front length" : "back length";
    struct dwi_reckoning sum = dwi_reckon(making->arena, name, "box outside width", box->width);
    if (corner->outside)
        return dwi_reckoned(&sum);
    dwi_reckon_less(&sum, dw_arena_format(making->arena, "less two sides of %s", dwi_say(making, corner->side)), 2 * corner->side);
    dwi_reckon_add(&sum,
                   dw_arena_format(making->arena, "plus two %s of %s",
                                   corner->joint == DW_RABBET_AND_DADO ? "tongues" : "ends let into the sides", dwi_say(making, corner->reach)),
                   2 * corner->reach);
    return dwi_reckoned(&sum);
}
