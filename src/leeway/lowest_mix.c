/* lowest_mix.c - the least money for which sheets, in whole numbers, and dearer slides obey every row: in integers, by trying numbers of one source
 * after the other.
 *
 * A branch is left where its cost plus what any row still asks for at the best rate of the sources to come, rounded up, reaches the best found. Rows
 * of one material each ask apart, so the most that each material's rows ask for adds up over materials.
 */
#include "wishes.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { NODES_MOST = 200000 };

struct mixing {
    const struct dwi_mixing *asked;
    size_t material_count;
    size_t *material;        /* of each row; material_count: of several */
    dw_money *asks;          /* of each material and of all, while a branch is bounded */
    int64_t *left;           /* of each depth and row: what is still asked for */
    int64_t *counts;
    int64_t nodes;
    dw_money best;
    int64_t *best_counts;
    dw_money best_extra;
    dw_money extra;
};

static size_t material_of(const struct dwi_mixing *asked, const struct dwi_row *row, size_t materials)
{
    size_t material = materials;
    for (size_t s = 0; s < asked->source_count; s++) {
        if (row->v[s] == 0)
            continue;
        if (material != materials && material != asked->sources[s].material)
            return materials;
        material = asked->sources[s].material;
    }
    return material;
}

/* What a row that still asks for `left` costs at least with the sources from `from` on; more than `enough` when they cannot give it. */
static dw_money least_for(const struct mixing *mixing, const struct dwi_row *row, int64_t left, size_t from, dw_money enough)
{
    const struct dwi_source *sources = mixing->asked->sources;
    size_t best = mixing->asked->source_count;
    for (size_t s = from; s < mixing->asked->source_count; s++) {
        if (row->v[s] == 0 || sources[s].most == 0)
            continue;
        if (best == mixing->asked->source_count || sources[s].price * row->v[best] < sources[best].price * row->v[s])
            best = s;
    }
    if (best == mixing->asked->source_count)
        return enough + 1;
    const int64_t sheets = left / row->v[best];
    const int64_t rest = left % row->v[best];
    if (sheets > INT32_MAX)
        return enough + 1;
    return sheets * sources[best].price + (rest * sources[best].price + row->v[best] - 1) / row->v[best];
}

/* At least so much more is needed from the sources from `from` on. */
static dw_money needed(struct mixing *mixing, const int64_t *left, size_t from)
{
    const struct dwi_mixing *asked = mixing->asked;
    memset(mixing->asks, 0, (mixing->material_count + 1) * sizeof *mixing->asks);
    for (size_t r = 0; r < asked->row_count; r++) {
        dw_money *asks = &mixing->asks[mixing->material[r]];
        if (left[r] > 0)
            *asks = dw_most(*asks, least_for(mixing, &asked->rows[r], left[r], from, mixing->best));
    }
    dw_money sum = 0;
    for (size_t m = 0; m < mixing->material_count; m++)
        sum += mixing->asks[m];
    return dw_most(sum, mixing->asks[mixing->material_count]);
}

static bool is_refused(const struct mixing *mixing)
{
    for (size_t i = 0; i < mixing->asked->refusal_count; i++) {
        const struct dwi_refusal *refusal = &mixing->asked->refusals[i];
        bool within = mixing->extra <= refusal->extra;
        for (size_t s = 0; within && s < mixing->asked->source_count; s++)
            within = mixing->counts[s] <= refusal->counts[s];
        if (within)
            return true;
    }
    return false;
}

void dwi_refuse_mix(struct dwi_mixing *mixing, const int64_t *counts, dw_money extra, struct dw_arena *arena)
{
    mixing->refusals = dw_arena_grow(arena, mixing->refusals, mixing->refusal_count, &mixing->refusal_capacity, sizeof *mixing->refusals);
    mixing->refusals[mixing->refusal_count++] =
        (struct dwi_refusal){dw_arena_copy(arena, counts, mixing->source_count, sizeof *counts), extra};
}

static void branch(struct mixing *mixing, size_t from, dw_money cost)
{
    const struct dwi_mixing *asked = mixing->asked;
    const int64_t *left = mixing->left + from * asked->row_count;
    if (++mixing->nodes > NODES_MOST || cost + needed(mixing, left, from) >= mixing->best)
        return;
    if (from == asked->source_count && is_refused(mixing))
        return;
    if (from == asked->source_count) {
        mixing->best = cost;
        mixing->best_extra = mixing->extra;
        memcpy(mixing->best_counts, mixing->counts, asked->source_count * sizeof *mixing->counts);
        return;
    }
    int64_t *next = mixing->left + (from + 1) * asked->row_count;
    const struct dwi_source *source = &asked->sources[from];
    for (int64_t n = 0; n <= source->most && cost + n * source->price < mixing->best; n++) {
        mixing->counts[from] = n;
        for (size_t r = 0; r < asked->row_count; r++)
            next[r] = left[r] - n * asked->rows[r].v[from];
        branch(mixing, from + 1, cost + n * source->price);
    }
    mixing->counts[from] = 0;
}

dw_money dwi_lowest_mix(const struct dwi_mixing *asked, dw_money below, int64_t *counts, dw_money *extra, struct dw_arena *arena)
{
    struct dw_arena *scratch = dw_arena_child(arena);
    struct mixing mixing = {.asked = asked, .best = below, .best_counts = counts};
    for (size_t s = 0; s < asked->source_count; s++)
        mixing.material_count = asked->sources[s].material >= mixing.material_count ? asked->sources[s].material + 1 : mixing.material_count;
    mixing.material = dw_arena_alloc(scratch, asked->row_count, sizeof *mixing.material);
    mixing.asks = dw_arena_alloc(scratch, mixing.material_count + 1, sizeof *mixing.asks);
    mixing.left = dw_arena_alloc(scratch, (asked->source_count + 1) * asked->row_count, sizeof *mixing.left);
    mixing.counts = dw_arena_alloc(scratch, asked->source_count, sizeof *mixing.counts);
    for (size_t r = 0; r < asked->row_count; r++)
        mixing.material[r] = material_of(asked, &asked->rows[r], mixing.material_count);
    for (size_t e = 0; e < asked->extra_count && asked->extras[e] < mixing.best; e++) {
        mixing.extra = asked->extras[e];
        for (size_t r = 0; r < asked->row_count; r++)
            mixing.left[r] = asked->rows[r].rhs - mixing.extra * asked->rows[r].money;
        branch(&mixing, 0, mixing.extra);
    }
    *extra = mixing.best_extra;
    dw_arena_free(scratch);
    return mixing.nodes > NODES_MOST ? -1 : mixing.best;
}
