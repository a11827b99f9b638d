/* shares.c - who bears how much of the cost: every job, case and drawer.
 *
 * Each amount is split among leaves (a drawer; a case's own parts; what a job lists by hand) by a weight, to the last cent
 * (dw_money_split); cases and jobs are sums of their leaves. So every level adds up to the whole.
 *   a material     by the area of the leaf's parts, a kerf added on two sides; the waste allowance with it
 *   slides         evenly over the job's drawers that run on them
 *   other hardware evenly over the job's drawers; what several jobs buy in one line first by how much each wants of it
 *   delivery, tax  by the goods that fell to the leaf
 *   labor          by its parts' area: a stated rule, not a time study
 */
#include "buying.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

struct leaf {
    size_t job, case_index, case_copy, bank, drawer; /* DW_NO_INDEX where it belongs to none */
    const char *drawer_path;
    dw_money out, used;
};

struct sharing {
    struct buying *buying;
    struct leaf *leaves; /* in order of place */
    size_t count, capacity;
    int64_t *weights;    /* scratch, one a leaf */
    dw_money *parts;     /* scratch, one a leaf */
};

/* ---- leaves ---- */

static struct leaf leaf_of(size_t job, const struct dw_piece *piece)
{
    return (struct leaf){.job = job, .case_index = piece->case_index, .case_copy = piece->case_copy, .bank = piece->bank_index,
                         .drawer = piece->drawer_index, .drawer_path = piece->drawer_path};
}

static int compare_indices(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

static int compare_leaves(const void *first, const void *second)
{
    const struct leaf *a = first, *b = second;
    const size_t of_a[] = {a->job, a->case_index, a->case_copy, a->bank, a->drawer};
    const size_t of_b[] = {b->job, b->case_index, b->case_copy, b->bank, b->drawer};
    int order = 0;
    for (size_t i = 0; order == 0 && i < sizeof of_a / sizeof *of_a; i++)
        order = compare_indices(of_a[i], of_b[i]);
    return order;
}

/* One leaf for every piece, sorted, then each kept once. */
static void find_leaves(struct sharing *sharing)
{
    struct dw_arena *arena = sharing->buying->arena;
    for (size_t job = 0; job < sharing->buying->job_count; job++)
        for (size_t p = 0; p < sharing->buying->jobs[job]->count; p++)
            for (size_t i = 0; i < sharing->buying->jobs[job]->at[p].count; i++) {
                sharing->leaves = dw_arena_grow(arena, sharing->leaves, sharing->count, &sharing->capacity, sizeof *sharing->leaves);
                sharing->leaves[sharing->count++] = leaf_of(job, &sharing->buying->jobs[job]->at[p].pieces[i]);
            }
    if (sharing->count > 0)
        qsort(sharing->leaves, sharing->count, sizeof *sharing->leaves, compare_leaves);
    size_t kept = 0;
    for (size_t i = 0; i < sharing->count; i++)
        if (kept == 0 || compare_leaves(&sharing->leaves[kept - 1], &sharing->leaves[i]) != 0)
            sharing->leaves[kept++] = sharing->leaves[i];
    sharing->count = kept;
    sharing->weights = dw_arena_alloc(arena, kept, sizeof *sharing->weights);
    sharing->parts = dw_arena_alloc(arena, kept, sizeof *sharing->parts);
}

static struct leaf *leaf_at(const struct sharing *sharing, size_t job, const struct dw_piece *piece)
{
    const struct leaf wanted = leaf_of(job, piece);
    return sharing->count == 0 ? NULL : bsearch(&wanted, sharing->leaves, sharing->count, sizeof wanted, compare_leaves);
}

/* ---- weights ---- */

static void clear_weights(struct sharing *sharing)
{
    memset(sharing->weights, 0, sharing->count * sizeof *sharing->weights);
}

/* Area of the pieces of one problem; of all problems for DW_NO_INDEX. A piece is in one problem only, by its material. */
static void weigh_area(struct sharing *sharing, size_t only)
{
    clear_weights(sharing);
    for (size_t m = 0; m < sharing->buying->problem_count; m++) {
        const struct dw_layout_problem *problem = &sharing->buying->problems[m];
        const dw_length kerf = problem->request.kerf;
        for (size_t p = 0; (only == DW_NO_INDEX || only == m) && p < problem->request.part_count; p++) {
            const size_t count = problem->matches[p] != NULL ? problem->matches[p]->count : (size_t)problem->request.parts[p].count;
            for (size_t i = 0; i < count; i++) {
                const struct dw_piece_ref ref = problem->pieces[p][i];
                const struct dw_part *part = &sharing->buying->jobs[ref.job]->at[ref.part];
                const struct leaf *leaf = leaf_at(sharing, ref.job, &part->pieces[ref.piece]);
                sharing->weights[leaf - sharing->leaves] += (part->length.value + kerf) * (part->width.value + kerf);
            }
        }
    }
}

static bool runs_on(const struct sharing *sharing, const struct leaf *leaf, const struct dw_need *need)
{
    const struct dw_sizing *sizing = sharing->buying->jobs[leaf->job]->sizing;
    if (need->kind != DW_NEED_SLIDES || leaf->case_index >= sizing->case_count || leaf->bank >= sizing->cases[leaf->case_index].bank_count ||
        leaf->drawer >= sizing->cases[leaf->case_index].banks[leaf->bank].drawer_count)
        return false;
    const struct dw_sized_drawer *drawer = &sizing->cases[leaf->case_index].banks[leaf->bank].drawers[leaf->drawer];
    return drawer->slide == need->index && drawer->slide_length.value == need->length;
}

/* 1 for each leaf that a need is for: the drawers on these slides; else the job's drawers; else all that the job has. */
static void weigh_need(struct sharing *sharing, size_t job, const struct dw_need *need)
{
    clear_weights(sharing);
    bool any = false;
    for (int widest = 0; widest < 3 && !any; widest++)
        for (size_t i = 0; i < sharing->count; i++) {
            const struct leaf *leaf = &sharing->leaves[i];
            const bool served = widest == 0 ? runs_on(sharing, leaf, need) : widest == 1 ? leaf->drawer != DW_NO_INDEX : true;
            if (leaf->job == job && served) {
                sharing->weights[i] = 1;
                any = true;
            }
        }
}

/* ---- splitting ---- */

static void give_out(struct sharing *sharing, dw_money amount)
{
    dw_money_split(amount, sharing->weights, sharing->count, sharing->parts);
    for (size_t i = 0; i < sharing->count; i++)
        sharing->leaves[i].out += sharing->parts[i];
}

static void give_used(struct sharing *sharing, dw_money amount)
{
    dw_money_split(amount, sharing->weights, sharing->count, sharing->parts);
    for (size_t i = 0; i < sharing->count; i++)
        sharing->leaves[i].used += sharing->parts[i];
}

/* A line of hardware, first among the needs it is bought for, by pieces (banding by length), then among their leaves. */
static void share_goods(struct sharing *sharing, const struct dw_buy_line *line)
{
    int64_t *wanted = dw_arena_alloc(sharing->buying->arena, line->need_count, sizeof *wanted);
    dw_money *amounts = dw_arena_alloc(sharing->buying->arena, line->need_count, sizeof *amounts);
    for (size_t i = 0; i < line->need_count; i++) {
        const struct dw_need *need = &sharing->buying->jobs[line->needs[i].job]->needs[line->needs[i].need];
        wanted[i] = need->kind == DW_NEED_BANDING ? need->length : need->count;
    }
    dw_money_split(line->total, wanted, line->need_count, amounts);
    for (size_t i = 0; i < line->need_count; i++) {
        weigh_need(sharing, line->needs[i].job, &sharing->buying->jobs[line->needs[i].job]->needs[line->needs[i].need]);
        give_out(sharing, amounts[i]);
    }
}

static void share_out(struct sharing *sharing)
{
    const struct dw_purchase *purchase = sharing->buying->purchase;
    dw_money goods = 0;
    for (size_t i = 0; i < purchase->line_count; i++) {
        const struct dw_buy_line *line = &purchase->lines[i];
        goods += line->total;
        if (line->material == DW_NO_INDEX) {
            share_goods(sharing, line);
            continue;
        }
        weigh_area(sharing, line->material);
        give_out(sharing, line->total);
    }
    for (size_t i = 0; i < sharing->count; i++)
        sharing->weights[i] = sharing->leaves[i].out;
    give_out(sharing, purchase->total - goods); /* delivery and tax */
}

static void share_used(struct sharing *sharing)
{
    const struct buying *buying = sharing->buying;
    const struct used *used = &buying->used;
    for (size_t m = 0; m < buying->problem_count; m++) {
        weigh_area(sharing, m);
        give_used(sharing, used->materials[m]);
    }
    for (size_t i = 0; i < sharing->count; i++)
        sharing->weights[i] = sharing->leaves[i].used;
    give_used(sharing, used->waste);
    for (size_t job = 0; job < buying->job_count; job++)
        for (size_t i = 0; i < buying->jobs[job]->need_count; i++) {
            weigh_need(sharing, job, &buying->jobs[job]->needs[i]);
            give_used(sharing, used->needs[job][i]);
        }
    for (size_t i = 0; i < sharing->count; i++)
        sharing->weights[i] = sharing->leaves[i].used;
    give_used(sharing, used->delivery + used->tax);
    weigh_area(sharing, DW_NO_INDEX);
    give_used(sharing, used->labor);
}

/* ---- the list ---- */

static bool is_same(const struct leaf *a, const struct leaf *b, int level)
{
    if (level == 0)
        return a->job == b->job;
    return level == 2 ? compare_leaves(a, b) == 0 : a->job == b->job && a->case_index == b->case_index && a->case_copy == b->case_copy;
}

static const char *case_path(const struct sharing *sharing, const struct leaf *leaf)
{
    const struct dw_sizing *sizing = sharing->buying->jobs[leaf->job]->sizing;
    if (leaf->case_index >= sizing->case_count)
        return "listed by hand";
    const struct dw_sized_case *sized = &sizing->cases[leaf->case_index];
    if (sized->source->count <= 1)
        return sized->path;
    return dw_arena_format(sharing->buying->arena, "%s no. %zu", sized->path, leaf->case_copy + 1);
}

static const char *path_of(const struct sharing *sharing, const struct leaf *leaf, int level)
{
    if (level == 0)
        return sharing->buying->jobs[leaf->job]->sizing->job->name;
    if (level == 1 || leaf->case_index == DW_NO_INDEX)
        return case_path(sharing, leaf);
    if (leaf->drawer == DW_NO_INDEX)
        return dw_arena_format(sharing->buying->arena, "%s, its own parts", case_path(sharing, leaf));
    return leaf->drawer_path;
}

void dwi_buying_shares(struct buying *buying)
{
    struct sharing sharing = {.buying = buying};
    find_leaves(&sharing);
    share_out(&sharing);
    share_used(&sharing);
    struct dw_share *shares = dw_arena_alloc(buying->arena, 3 * sharing.count, sizeof *shares);
    size_t count = 0;
    for (int level = 0; level < 3; level++)
        for (size_t i = 0; i < sharing.count; i++) {
            const struct leaf *leaf = &sharing.leaves[i];
            if (i == 0 || !is_same(leaf - 1, leaf, level))
                shares[count++] = (struct dw_share){.path = path_of(&sharing, leaf, level), .level = level, .job = leaf->job};
            shares[count - 1].money_out += leaf->out;
            shares[count - 1].consumed += leaf->used;
        }
    buying->purchase->shares = shares;
    buying->purchase->share_count = count;
}
