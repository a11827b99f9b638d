/* edits.c - what a change writes into the job when the maker takes it, and when he refuses it.
 *
 * Taken: the size as the trial told it (trial.c), so that the job as written comes out at the very same sizes, and the range off, or the next plan
 * would go on from there. Refused: the range off, as --keep has it for one call. What was only asked about (near misses) has no range to put off.
 */
#include "knobs.h"

#include <drawerwright/memory.h>

struct editing {
    const struct dwi_search *search;
    const struct dwi_knob *knob;
    struct dw_leeway_edit *at;
    size_t count, capacity;
};

static void add(struct editing *editing, size_t job, const char *address, enum dw_leeway_edit_kind kind, dw_length length)
{
    editing->at = dw_arena_grow(editing->search->arena, editing->at, editing->count, &editing->capacity, sizeof *editing->at);
    editing->at[editing->count++] = (struct dw_leeway_edit){.job = job, .address = address, .kind = kind, .length = length};
}

/* "cases[0].banks[1].drawers[2].KEY" */
static const char *in_drawer(const struct editing *editing, const struct dwi_member *member, size_t drawer, const char *key)
{
    return dw_arena_format(editing->search->arena, "cases[%zu].banks[%zu].drawers[%zu].%s", member->case_index, member->bank_index, drawer, key);
}

static void add_in_drawer(struct editing *editing, const struct dwi_member *member, const char *key, enum dw_leeway_edit_kind kind, dw_length length)
{
    add(editing, member->job, in_drawer(editing, member, member->drawer_index, key), kind, length);
}

static const struct dw_drawer *drawer_of(const struct editing *editing, const struct dwi_member *member, size_t drawer)
{
    return &editing->search->jobs[member->job]->cases[member->case_index].banks[member->bank_index].drawers[drawer];
}

/* ---- the size ---- */

static void set_overlay(struct editing *editing, const struct dwi_member *member, dw_length less)
{
    static const char *const keys[DW_EDGES] = {
        [DW_TOP] = "fit.overlay.top", [DW_BOTTOM] = "fit.overlay.bottom", [DW_LEFT] = "fit.overlay.left", [DW_RIGHT] = "fit.overlay.right"};
    const struct dw_fit *fit = &drawer_of(editing, member, member->drawer_index)->fit;
    add_in_drawer(editing, member, "fit.kind", fit->kind == DW_LIPPED ? DW_EDIT_LIPPED : DW_EDIT_OVERLAY, 0);
    for (int edge = 0; edge < DW_EDGES; edge++)
        add_in_drawer(editing, member, keys[edge], DW_EDIT_LENGTH, fit->overlay[edge] - less);
}

/* Those with a height of their own keep it. */
static void set_fronts(struct editing *editing, const struct dwi_member *member)
{
    const struct dwi_knob *knob = editing->knob;
    for (size_t d = 0; d < knob->fronts.count; d++)
        if (knob->fronts.may[d])
            add(editing, member->job, in_drawer(editing, member, d, "height"), DW_EDIT_LENGTH, dwi_front_height(knob, d));
}

static void set_listed(struct editing *editing, const struct dwi_member *member, const char *key, dw_length length)
{
    add(editing, member->job, dw_arena_format(editing->search->arena, "parts[%zu].%s", member->drawer_index, key), DW_EDIT_LENGTH, length);
}

/* A height that was not told stays one by rule, with a limit. */
static void set_box_height(struct editing *editing, const struct dwi_member *member, dw_length height)
{
    const struct dw_box *box = &drawer_of(editing, member, member->drawer_index)->box;
    add_in_drawer(editing, member, box->height != DW_LENGTH_UNSET ? "box.height" : "box.height_most", DW_EDIT_LENGTH, height);
}

static void set_size(struct editing *editing, const struct dwi_member *member)
{
    const struct dwi_knob *knob = editing->knob;
    const dw_length value = knob->values[knob->at];
    switch (knob->kind) {
        case DWI_BOX_HEIGHT:
            set_box_height(editing, member, value);
            break;
        case DWI_SLIDE_LENGTH:
            add_in_drawer(editing, member, "box.slide_length", DW_EDIT_LENGTH, value);
            break;
        case DWI_GROOVE_HEIGHT:
            add_in_drawer(editing, member, "box.groove_up", DW_EDIT_LENGTH, value);
            break;
        case DWI_OVERLAY:
            set_overlay(editing, member, value);
            break;
        case DWI_LISTED_LENGTH:
            set_listed(editing, member, "length", value);
            break;
        case DWI_LISTED_WIDTH:
            set_listed(editing, member, "width", value);
            break;
        case DWI_FRONTS:
            set_fronts(editing, member);
            break;
    }
}

/* ---- the range ---- */

static void put_off(struct editing *editing, const struct dwi_member *member)
{
    switch (editing->knob->kind) {
        case DWI_BOX_HEIGHT:
            add_in_drawer(editing, member, "box.leeway.lower", DW_EDIT_LENGTH, 0);
            break;
        case DWI_SLIDE_LENGTH:
            add_in_drawer(editing, member, "box.leeway.shorter", DW_EDIT_NONE, 0);
            break;
        case DWI_GROOVE_HEIGHT:
            add_in_drawer(editing, member, "box.leeway.groove_higher", DW_EDIT_LENGTH, 0);
            break;
        case DWI_OVERLAY:
            add_in_drawer(editing, member, "fit.leeway", DW_EDIT_LENGTH, 0);
            break;
        case DWI_FRONTS:
            add(editing, member->job, dw_arena_format(editing->search->arena, "cases[%zu].banks[%zu].leeway", member->case_index, member->bank_index),
                DW_EDIT_LENGTH, 0);
            break;
        case DWI_LISTED_LENGTH:
        case DWI_LISTED_WIDTH: /* by hand: no range */
            break;
    }
}

void dwi_leeway_edits(const struct dwi_search *search, const struct dwi_knob *knob, struct dw_leeway_change *change)
{
    struct editing take = {.search = search, .knob = knob};
    struct editing refuse = take;
    for (size_t i = 0; i < knob->member_count; i++) {
        set_size(&take, &knob->members[i]);
        if (search->options->near > 0)
            continue;
        put_off(&take, &knob->members[i]);
        put_off(&refuse, &knob->members[i]);
    }
    change->take = take.at;
    change->take_count = take.count;
    change->refuse = refuse.at;
    change->refuse_count = refuse.count;
}
