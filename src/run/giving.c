/* giving.c - sizes that give where only some of the parts are planned: what is cut keeps its sizes, and what is not planned forces no sheet. */
#include "rest.h"

#include <drawerwright/memory.h>

struct giving {
    const struct dw_run *run;
    const struct dw_run_rest *rest; /* NULL: all parts */
    struct dw_leeway_options options;
    struct dw_arena *arena;
};

/* Parts as made of other sizes, made into those that are planned. */
static void take_planned(const void *context, const struct dw_parts **jobs, size_t job_count, struct dw_arena *arena)
{
    const struct giving *giving = context;
    dwi_run_number_marks(jobs, job_count, arena);
    if (giving->rest != NULL)
        dwi_rest_take(jobs, job_count, giving->rest, arena);
}

/* The drawer or listed part that a cut piece belongs to; NULL for the case's own parts, whose sizes do not give. */
static const char *frozen_by(const struct dw_parts *const *jobs, size_t job_count, const char *mark)
{
    size_t job = 0;
    const struct dw_piece *piece = NULL;
    const struct dw_part *part = dwi_rest_piece(jobs, job_count, mark, &job, &piece);
    if (part == NULL || part->kind == DW_PART_CASE || part->kind == DW_PART_PACKING)
        return NULL;
    return part->kind == DW_PART_EXTRA ? part->name : piece->drawer_path;
}

/* Adds what is frozen to the paths that the maker wants kept. */
static void keep_frozen(struct giving *giving)
{
    const size_t cut_count = giving->rest == NULL ? 0 : giving->rest->cut_count;
    const char **keep = dw_arena_alloc(giving->arena, giving->options.keep_count + cut_count, sizeof *keep);
    for (size_t i = 0; i < giving->options.keep_count; i++)
        keep[i] = giving->options.keep[i];
    for (size_t i = 0; i < cut_count; i++) {
        const char *path = frozen_by(giving->run->whole, giving->run->job_count, giving->rest->cut[i].piece.mark);
        if (path != NULL)
            keep[giving->options.keep_count++] = path;
    }
    giving->options.keep = keep;
}

static void body(void *context)
{
    keep_frozen(context);
}

enum dw_status dw_run_leeway(const struct dw_run *run, const struct dw_run_rest *rest, const struct dw_leeway_options *options,
                             const struct dw_layout_options *layout, const struct dw_control *control, struct dw_arena *arena, struct dw_faults *faults,
                             const struct dw_leeway **leeway)
{
    struct giving giving = {.run = run, .rest = rest, .options = *options, .arena = arena};
    *leeway = NULL;
    if (!dw_arena_guard(arena, body, &giving)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    giving.options.planned = take_planned;
    giving.options.planned_context = &giving;
    return dw_leeway_search(run->jobs, run->job_count, run->purchase, &giving.options, layout, control, arena, faults, leeway);
}
