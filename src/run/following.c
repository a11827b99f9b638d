/* following.c - what a plan starts from that is not the first: what is cut and stays, what is left to cut from, what the rack holds beside. */
#include "rest.h"

#include <string.h>

#include <drawerwright/memory.h>

struct wording {
    const char *words;
    struct dw_arena *arena;
    const char **only;
    size_t count, capacity;
};

static void word_body(void *context)
{
    struct wording *wording = context;
    for (const char *at = wording->words; at[0] != '\0';) {
        const size_t length = strcspn(at, ",");
        wording->only = dw_arena_grow(wording->arena, wording->only, wording->count, &wording->capacity, sizeof *wording->only);
        wording->only[wording->count++] = dw_arena_slice(wording->arena, at, length);
        at += length + (at[length] == ',' ? 1 : 0);
    }
}

enum dw_status dw_run_only(const char *words, struct dw_arena *arena, struct dw_faults *faults, struct dw_run_rest *rest)
{
    struct wording wording = {.words = words, .arena = arena};
    if (!dw_arena_guard(arena, word_body, &wording)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    rest->only = wording.only;
    rest->only_count = wording.count;
    return DW_DONE;
}

enum dw_status dw_run_follow(const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults, struct dw_run_rest *rest,
                             struct dw_layout_options *options)
{
    if (progress->replaced_by[0] != '\0') {
        dw_error(faults, DW_IMPOSSIBLE, "plan-replaced", progress->plan.mark, "it was replaced by plan %s\nplan again from that one", progress->replaced_by);
        return DW_IMPOSSIBLE;
    }
    if (progress->posted) {
        dw_error(faults, DW_IMPOSSIBLE, "posted-already", progress->plan.mark,
                 "this plan or one before it is entered in the rack, as if all of it were cut\n"
                 "undo that first (drawerwright rack undo) and enter the last plan when all is cut");
        return DW_IMPOSSIBLE;
    }
    rest->cut = progress->cut;
    rest->cut_count = progress->cut_count;
    rest->planned = progress->plan.pieces;
    rest->planned_count = progress->plan.piece_count;
    rest->bought = progress->plan.goods;
    rest->bought_count = progress->plan.goods_count;
    rest->follows = true;
    options->taken = progress->taken;
    options->taken_count = progress->taken_count;
    options->follows = progress->plan.mark;
    options->seen = progress->last;
    return dw_run_left(progress, arena, faults, &options->owned, &options->owned_count);
}

/* ---- the rack ------------------------------------------------------------------------------------------------- */

struct taking {
    const struct dw_offcuts *offcuts;
    const struct dw_progress *progress;
    struct dw_arena *arena;
    struct dw_layout_options *options;
};

/* Does the plan that is followed count on this offcut? Then it lies on the bench. */
static bool is_taken(const struct dw_progress *progress, const char *id)
{
    for (size_t i = 0; progress != NULL && i < progress->racked_count; i++)
        if (strcmp(progress->racked[i], id) == 0)
            return true;
    return false;
}

static void take_body(void *context)
{
    const struct taking *taking = context;
    struct dw_layout_options *options = taking->options;
    struct dw_owned *owned = dw_arena_alloc(taking->arena, options->owned_count + taking->offcuts->count, sizeof *owned);
    size_t count = options->owned_count;
    for (size_t i = 0; i < count; i++)
        owned[i] = options->owned[i];
    for (size_t i = 0; i < taking->offcuts->count; i++) {
        const struct dw_offcut *offcut = &taking->offcuts->at[i];
        if (!is_taken(taking->progress, offcut->id))
            owned[count++] = (struct dw_owned){.id = offcut->id, .material = offcut->material, .length = offcut->length, .width = offcut->width,
                                               .grain_across = offcut->grain_across, .value = offcut->value, .count = 1};
    }
    options->owned = owned;
    options->owned_count = count;
}

enum dw_status dw_run_use_rack(struct dw_rack *rack, const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults,
                               struct dw_layout_options *options)
{
    struct dw_offcuts offcuts = {.count = 0};
    struct taking taking = {.offcuts = &offcuts, .progress = progress, .arena = arena, .options = options};
    const enum dw_status status = dw_rack_list(rack, NULL, arena, faults, &offcuts);
    if (status != DW_DONE)
        return status;
    if (dw_arena_guard(arena, take_body, &taking))
        return DW_DONE;
    dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
    return DW_SURROUNDINGS;
}
