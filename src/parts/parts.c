/* parts.c - the parts stage: drawers, cases, listed parts and packing become blanks, blanks are gathered, and what else must be bought is counted. */
#include <drawerwright/parts.h>

#include <drawerwright/memory.h>

#include "making.h"

struct call {
    struct dwi_making making;
    size_t errors_before;
    struct dw_parts *parts;
};

static void make(void *context)
{
    struct call *call = context;
    struct dwi_making *making = &call->making;
    call->parts = dw_arena_alloc(making->arena, 1, sizeof *call->parts);
    making->letters = dwi_case_letters(making);
    dwi_make_drawers(making);
    dwi_make_casework(making);
    dwi_make_extras(making);
    dwi_make_packing(making);
    if (making->faults->errors > call->errors_before)
        return;
    call->parts->sizing = making->sizing;
    call->parts->case_letters = making->letters;
    dwi_gather(making, call->parts);
    dwi_match(making, call->parts);
    dwi_needs(making, call->parts);
}

enum dw_status dw_parts_make(const struct dw_sizing *sizing, struct dw_arena *arena, struct dw_faults *faults, const struct dw_parts **parts)
{
    struct call call = {.making = {.sizing = sizing, .job = sizing->job, .arena = arena, .faults = faults}, .errors_before = faults->errors};
    *parts = NULL;
    if (!dw_arena_guard(arena, make, &call) || faults->out_of_memory)
        return DW_SURROUNDINGS;
    if (faults->errors > call.errors_before)
        return faults->status;
    *parts = call.parts;
    return DW_DONE;
}

/* ---- words ----------------------------------------------------------------------------------------------- */

const char *dw_part_kind_word(enum dw_part_kind kind)
{
    static const char *const WORDS[] = {[DW_PART_FRONT] = "front",     [DW_PART_SIDE] = "side",       [DW_PART_BOX_FRONT] = "box front",
                                        [DW_PART_BACK] = "back",       [DW_PART_BOTTOM] = "bottom",   [DW_PART_PACKING] = "packing strip",
                                        [DW_PART_CASE] = "case part",  [DW_PART_EXTRA] = "listed part"};
    return WORDS[kind];
}

const char *dw_joint_word(enum dw_joint joint)
{
    static const char *const WORDS[] = {[DW_JOINT_INHERIT] = "inherited",
                                        [DW_BUTT] = "butt",
                                        [DW_RABBET] = "rabbet",
                                        [DW_DADO] = "dado",
                                        [DW_RABBET_AND_DADO] = "rabbet-and-dado",
                                        [DW_LOCK_RABBET] = "lock rabbet",
                                        [DW_FINGER] = "finger",
                                        [DW_HALF_BLIND] = "half-blind dovetail",
                                        [DW_THROUGH] = "through dovetail",
                                        [DW_MITER] = "miter"};
    return WORDS[joint];
}

const char *dw_bottom_word(enum dw_bottom bottom)
{
    static const char *const WORDS[] = {[DW_BOTTOM_INHERIT] = "inherited", [DW_BOTTOM_GROOVED] = "in a groove",
                                        [DW_BOTTOM_SLID_IN] = "slid in",   [DW_BOTTOM_RABBETED] = "in a rabbet",
                                        [DW_BOTTOM_APPLIED] = "applied"};
    return WORDS[bottom];
}

const char *dw_work_word(enum dw_work_kind kind)
{
    static const char *const WORDS[] = {[DW_WORK_GROOVE] = "groove",   [DW_WORK_DADO] = "dado",   [DW_WORK_RABBET] = "rabbet",
                                        [DW_WORK_SLOT] = "slot",       [DW_WORK_FINGERS] = "fingers", [DW_WORK_TAILS] = "tails",
                                        [DW_WORK_PINS] = "pins",       [DW_WORK_MITER] = "miter", [DW_WORK_NOTCH] = "notch",
                                        [DW_WORK_HOLES] = "holes",     [DW_WORK_LIP] = "lip",     [DW_WORK_LINE] = "line"};
    return WORDS[kind];
}
