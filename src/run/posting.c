/* posting.c - a plan as the rack's ledger takes it: the offcuts that it cuts up, the offcuts that it gives back, and whole sheets that were bought
 * beyond those cut because so many cost less.
 *
 * An offcut given back is worth its share, by area, of what its sheet was worth: the same measure by which the cost of a plan counts what is
 * kept (src/purchase/cost.c).
 */
#include "rest.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

struct post {
    const struct dw_plan *plan;
    struct dw_arena *arena;
    struct dw_posting *posting;
    const char **used;
    struct dw_offcut *kept;
};

static size_t count_kept(const struct dw_plan_node *node)
{
    size_t count = node->use == DW_NODE_KEEP ? 1 : 0;
    for (size_t i = 0; i < node->piece_count; i++)
        count += count_kept(&node->pieces[i]);
    return count;
}

static void add_kept(struct post *post, const struct dw_plan_material *material, const struct dw_plan_sheet *sheet, const struct dw_plan_node *node)
{
    const struct dw_plan_source *source = &material->sources[sheet->source];
    if (node->use == DW_NODE_KEEP)
        post->kept[post->posting->kept_count++] = (struct dw_offcut){
            .id = "",
            .material = material->material,
            .length = node->length,
            .width = node->width,
            .grain_across = source->grain_across,
            .value = dw_money_scale(source->worth, node->length * node->width, source->length * source->width),
            .origin = dw_arena_format(post->arena, "plan %s, %s of %s", post->plan->plan_id, node->mark, source->sheet),
        };
    for (size_t i = 0; i < node->piece_count; i++)
        add_kept(post, material, sheet, &node->pieces[i]);
}

static void add_spares(struct post *post, const struct dw_plan_material *material)
{
    for (size_t s = 0; s < material->source_count; s++) {
        const struct dw_plan_source *source = &material->sources[s];
        for (int64_t i = 0; i < source->spare; i++)
            post->kept[post->posting->kept_count++] = (struct dw_offcut){
                .id = "",
                .material = material->material,
                .length = source->length,
                .width = source->width,
                .grain_across = source->grain_across,
                .value = source->worth,
                .origin = dw_arena_format(post->arena, "plan %s, spare sheet %s", post->plan->plan_id, source->sheet),
            };
    }
}

const char *dwi_plan_jobs(const struct dw_plan *plan, struct dw_arena *arena)
{
    struct dw_text names = dw_text_in(arena);
    for (size_t i = 0; i < plan->job_count; i++)
        dw_text_addf(&names, "%s%s", i == 0 ? "" : ", ", plan->jobs[i]);
    return names.bytes == NULL ? "" : names.bytes;
}

static void body(void *context)
{
    struct post *post = context;
    const struct dw_plan *plan = post->plan;
    size_t sheets = 0;
    size_t kept = 0;
    for (size_t m = 0; m < plan->material_count; m++)
        for (size_t s = 0; s < plan->materials[m].sheet_count; s++, sheets++)
            kept += count_kept(&plan->materials[m].sheets[s].root);
    for (size_t m = 0; m < plan->material_count; m++)
        for (size_t s = 0; s < plan->materials[m].source_count; s++)
            kept += (size_t)plan->materials[m].sources[s].spare;
    post->used = dw_arena_alloc(post->arena, sheets, sizeof *post->used);
    post->kept = dw_arena_alloc(post->arena, kept, sizeof *post->kept);
    for (size_t m = 0; m < plan->material_count; m++) {
        const struct dw_plan_material *material = &plan->materials[m];
        for (size_t s = 0; s < material->sheet_count; s++) {
            const struct dw_plan_sheet *sheet = &material->sheets[s];
            if (material->sources[sheet->source].owned)
                post->used[post->posting->used_count++] = material->sources[sheet->source].rack_id;
            add_kept(post, material, sheet, &sheet->root);
        }
        add_spares(post, material);
    }
    post->posting->jobs = dwi_plan_jobs(plan, post->arena);
}

enum dw_status dw_run_posting(const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_posting *posting)
{
    struct post post = {.plan = plan, .arena = arena, .posting = posting};
    *posting = (struct dw_posting){.plan = plan->plan_id};
    if (!dw_arena_guard(arena, body, &post)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    posting->used = post.used;
    posting->kept = post.kept;
    return DW_DONE;
}

/* ---- of a plan that replaced others ----------------------------------------------------------------------- */

struct post_all {
    const struct dw_progress *progress;
    struct dw_arena *arena;
    struct dw_posting *posting;
    struct dw_offcut *kept;
    size_t kept_count;
};

static bool is_of_plan(const char *id, const char *mark)
{
    const size_t length = strlen(mark);
    return strncmp(id, mark, length) == 0 && id[length] == '/';
}

/* What is left of the plan itself is in its own posting: as it will be when all is cut. */
static void all_body(void *context)
{
    struct post_all *all = context;
    const struct dw_progress *progress = all->progress;
    all->kept = dw_arena_alloc(all->arena, all->posting->kept_count + progress->left_count, sizeof *all->kept);
    for (; all->kept_count < all->posting->kept_count; all->kept_count++)
        all->kept[all->kept_count] = all->posting->kept[all->kept_count];
    for (size_t i = 0; i < progress->left_count; i++) {
        const struct dw_left_panel *left = &progress->left[i];
        if (is_of_plan(left->id, progress->plan.mark))
            continue;
        all->kept[all->kept_count++] = (struct dw_offcut){.id = "", .material = left->panel.material, .length = left->panel.length, .width = left->panel.width,
                                                          .grain_across = left->panel.grain_across, .value = left->panel.value,
                                                          .origin = dw_arena_format(all->arena, "plan %s", left->id)};
    }
}

enum dw_status dw_run_posting_all(const struct dw_plan *plan, const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults,
                                  struct dw_posting *posting)
{
    struct post_all all = {.progress = progress, .arena = arena, .posting = posting};
    const enum dw_status status = dw_run_posting(plan, arena, faults, posting);
    if (status != DW_DONE)
        return status;
    if (!dw_arena_guard(arena, all_body, &all)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    posting->used = progress->racked;
    posting->used_count = progress->racked_count;
    posting->kept = all.kept;
    posting->kept_count = all.kept_count;
    return DW_DONE;
}
