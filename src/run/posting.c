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

/* A batch is a matter of one job; the rack knows the material. */
static const char *base_of(const char *material, struct dw_arena *arena)
{
    const char *between = strstr(material, DW_BATCH_BETWEEN);
    return between == NULL ? material : dw_arena_slice(arena, material, (size_t)(between - material));
}

/* ", batch A": told with the origin, so that its thickness can be looked up; "" for none. */
static const char *batch_words(const char *material)
{
    const char *between = strstr(material, DW_BATCH_BETWEEN);
    return between == NULL ? "" : between;
}

static void add_kept(struct post *post, const struct dw_plan_material *material, const struct dw_plan_sheet *sheet, const struct dw_plan_node *node)
{
    const struct dw_plan_source *source = &material->sources[sheet->source];
    if (node->use == DW_NODE_KEEP)
        post->kept[post->posting->kept_count++] = (struct dw_offcut){
            .id = "",
            .material = base_of(material->material, post->arena),
            .length = node->length,
            .width = node->width,
            .grain_across = source->grain_across,
            .value = dw_money_scale(source->worth, node->length * node->width, source->length * source->width),
            .origin = dw_arena_format(post->arena, "plan %s, %s of %s%s", post->plan->plan_id, node->mark, source->sheet, batch_words(material->material)),
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
                .material = base_of(material->material, post->arena),
                .length = source->length,
                .width = source->width,
                .grain_across = source->grain_across,
                .value = source->worth,
                .origin = dw_arena_format(post->arena, "plan %s, spare sheet %s%s", post->plan->plan_id, source->sheet, batch_words(material->material)),
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

/* ---- of a plan that is worked from --------------------------------------------------------------------------- */

struct post_all {
    const struct dw_plan *plan;
    const struct dw_progress *progress;
    struct dw_arena *arena;
    struct dw_posting *posting;
    const char **used;
    struct dw_offcut *kept;
    size_t used_count, kept_count;
};

static bool is_of_plan(const char *id, const char *mark)
{
    const size_t length = strlen(mark);
    return strncmp(id, mark, length) == 0 && id[length] == '/';
}

static dw_length usable(const struct dw_work_panel *panel, bool along)
{
    return along ? panel->length - panel->trim[0] - panel->trim[1] : panel->width - panel->trim[2] - panel->trim[3];
}

/* An offcut as the rack takes it: without factory edges and what is damaged, and worth as much less. */
static void keep_panel(struct post_all *all, const struct dw_work_panel *panel, const char *id)
{
    const dw_length length = usable(panel, true);
    const dw_length width = usable(panel, false);
    if (length <= 0 || width <= 0)
        return;
    all->kept[all->kept_count++] = (struct dw_offcut){.id = "", .material = base_of(panel->material, all->arena), .length = length, .width = width,
                                                      .grain_across = panel->grain_across,
                                                      .value = dw_money_scale(panel->value, length * width, panel->length * panel->width),
                                                      .origin = dw_arena_format(all->arena, "plan %s%s", id, batch_words(panel->material))};
}

/* Of the plan itself what lies there and is no piece is cut on, but for offcuts; an offcut of the rack that an earlier one did not touch stays there. */
static void keep_left(struct post_all *all)
{
    for (size_t i = 0; i < all->progress->left_count; i++) {
        const struct dw_left_panel *left = &all->progress->left[i];
        const bool own = is_of_plan(left->id, all->progress->plan.mark);
        if (own ? left->panel.use == DW_PANEL_KEEP : left->racked[0] == '\0')
            keep_panel(all, &left->panel, left->id);
    }
}

/* Offcuts that come off when the plan is cut on to its end. */
static void keep_what_comes(struct post_all *all)
{
    const struct dw_work_plan *work = &all->progress->plan;
    for (size_t i = 0; i < work->pass_count; i++)
        for (int side = 0; side < 2 && !all->progress->made[i]; side++) {
            const size_t panel = side == 0 ? work->passes[i].off : work->passes[i].rest;
            if (panel != DW_NO_PANEL && work->panels[panel].use == DW_PANEL_KEEP && !all->progress->lost[panel])
                keep_panel(all, &work->panels[panel], dw_arena_format(all->arena, "%s/%s", work->mark, work->panels[panel].name));
        }
}

static bool is_untouched(const struct dw_progress *progress, const char *racked)
{
    for (size_t i = 0; i < progress->left_count; i++)
        if (!is_of_plan(progress->left[i].id, progress->plan.mark) && strcmp(progress->left[i].racked, racked) == 0)
            return true;
    return false;
}

static void all_body(void *context)
{
    struct post_all *all = context;
    const struct dw_progress *progress = all->progress;
    struct post spare = {.plan = all->plan, .arena = all->arena, .posting = all->posting};
    size_t spares = 0;
    for (size_t m = 0; m < all->plan->material_count; m++)
        for (size_t s = 0; s < all->plan->materials[m].source_count; s++)
            spares += (size_t)all->plan->materials[m].sources[s].spare;
    all->kept = dw_arena_alloc(all->arena, progress->left_count + progress->plan.panel_count + spares, sizeof *all->kept);
    all->used = dw_arena_alloc(all->arena, progress->racked_count, sizeof *all->used);
    spare.kept = all->kept;
    for (size_t m = 0; m < all->plan->material_count; m++)
        add_spares(&spare, &all->plan->materials[m]);
    all->kept_count = all->posting->kept_count;
    keep_left(all);
    keep_what_comes(all);
    for (size_t i = 0; i < progress->racked_count; i++)
        if (!is_untouched(progress, progress->racked[i]))
            all->used[all->used_count++] = progress->racked[i];
    all->posting->jobs = dwi_plan_jobs(all->plan, all->arena);
}

enum dw_status dw_run_posting_all(const struct dw_plan *plan, const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults,
                                  struct dw_posting *posting)
{
    struct post_all all = {.plan = plan, .progress = progress, .arena = arena, .posting = posting};
    *posting = (struct dw_posting){.plan = plan->plan_id};
    if (!dw_arena_guard(arena, all_body, &all)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    posting->used = all.used;
    posting->used_count = all.used_count;
    posting->kept = all.kept;
    posting->kept_count = all.kept_count;
    return DW_DONE;
}

enum dw_status dw_run_posting_known(struct dw_rack *rack, const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_posting *posting)
{
    const struct dw_progress *progress = NULL;
    struct dw_work_plan work;
    enum dw_status status = DW_DONE;
    *posting = (struct dw_posting){.plan = plan->plan_id};
    if (plan->follows[0] != '\0') {
        status = dw_run_work(plan, arena, faults, &work);
        if (status == DW_DONE)
            status = dw_progress_enter(rack, &work, faults);
        if (status != DW_DONE)
            return status;
    }
    struct dw_faults *unheard = dw_faults_new();
    if (unheard == NULL)
        return DW_SURROUNDINGS;
    status = dw_progress_read(rack, plan->plan_id, arena, unheard, &progress);
    if (status == DW_SURROUNDINGS)
        dw_faults_append(faults, unheard, "");
    dw_faults_free(unheard);
    if (status == DW_SURROUNDINGS)
        return status;
    return progress == NULL ? dw_run_posting(plan, arena, faults, posting) : dw_run_posting_all(plan, progress, arena, faults, posting);
}
