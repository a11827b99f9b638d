/* points.c - normal points, thinned to those that cutting can reach.
 *
 * Problem: a layout may be pushed to the low edges, so that a sub-piece needs no other size along a side than a sum of part sizes
 * (normal points: Herz 1972; Christofides & Whitlock 1977).
 *
 * Thinning: a piece of capacity c is split into t and the rest, which is rounded down to a point. With t the smaller of both, the
 * capacities that ever occur are the points t <= c / 2 and the rests, beginning with the whole side. Points above half the side that no
 * chain of splits reaches are dropped; what is left are at most the raster points (Terno, Lindemann & Scheithauer 1987).
 *
 * Where any number of a size may stand, two sums that fit the side together make a third, which value.c relies on when it takes layouts
 * apart and joins them anew. Sums within counts are fewer; their values need every split (demand.c).
 *
 * Invariant of the sums: sorted, distinct, at most `most`. Cost: pieces along the side x points for the sums, points squared for the rests.
 */
#include "points.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

static int by_size(const void *a, const void *b)
{
    const struct stretch *first = a, *second = b;
    return (first->size > second->size) - (first->size < second->size);
}

/* All sums of `sums` and up to any number of `step` (again) or one (not again), merged into `out`. Returns how many, or -1 when over
 * `most`. */
static int add_steps(const int64_t *sums, int count, int64_t step, bool again, int64_t side, int most, int64_t *out)
{
    int plain = 0, moved = 0, made = 0;
    for (;;) {
        const int64_t *from = again ? out : sums;
        const int64_t high = moved < (again ? made : count) && from[moved] + step <= side ? from[moved] + step : INT64_MAX;
        const int64_t low = plain < count ? sums[plain] : INT64_MAX;
        const int64_t next = low < high ? low : high;
        if (next == INT64_MAX)
            return made;
        if (made == most)
            return -1;
        out[made++] = next;
        plain += low == next;
        moved += high == next;
    }
}

/* Joins equal sizes of a sorted list; returns how many are left. */
static int join_equal(struct stretch *stretches, int count)
{
    int kept = 0;
    for (int i = 0; i < count; i++) {
        struct stretch *last = kept > 0 ? &stretches[kept - 1] : NULL;
        if (last == NULL || last->size != stretches[i].size)
            stretches[kept++] = stretches[i];
        else
            last->count = last->count > AXIS_ANY_NUMBER - stretches[i].count ? AXIS_ANY_NUMBER : last->count + stretches[i].count;
    }
    return kept;
}

/* All sums up to the side; returns how many, or -1 when over `most`. `sums` and `spare` hold `most` each. */
static int all_sums(const struct stretch *stretches, int count, int64_t side, int most, int64_t *sums, int64_t *spare)
{
    int made = 1;
    sums[0] = 0;
    for (int i = 0; i < count; i++) {
        const int64_t size = stretches[i].size;
        const bool again = stretches[i].count >= side / size;
        int before = 0;
        for (int64_t n = again ? stretches[i].count - 1 : 0; n < stretches[i].count && made != before; n++) {
            before = made;
            made = add_steps(sums, made, size, again, side, most, spare);
            if (made < 0)
                return -1;
            memcpy(sums, spare, (size_t)made * sizeof *sums);
        }
    }
    return made;
}

/* Marks what splits of the whole side reach. From high to low, as a split only reaches lower points. */
static void mark_reached(const int64_t *at, int count, bool *reached)
{
    reached[0] = reached[count - 1] = true;
    for (int c = count - 1; c > 0; c--) {
        int rest = c;
        for (int t = 1; reached[c] && t < c && 2 * at[t] <= at[c]; t++) {
            while (at[rest] > at[c] - at[t])
                rest--;
            reached[t] = reached[rest] = true;
        }
    }
}

static int keep_reached(int64_t *at, int count, struct dw_arena *scratch)
{
    bool *reached = dw_arena_alloc(scratch, (size_t)count, sizeof *reached);
    mark_reached(at, count, reached);
    int kept = 0;
    for (int c = 0; c < count; c++)
        if (reached[c])
            at[kept++] = at[c];
    return kept;
}

static void fill_halves(struct axis *axis, struct dw_arena *arena)
{
    int *halves = dw_arena_alloc(arena, (size_t)axis->count, sizeof *halves);
    int *first = dw_arena_alloc(arena, (size_t)axis->count, sizeof *first);
    for (int c = 0; c < axis->count; c++) {
        halves[c] = c == 0 ? 0 : halves[c - 1];
        while (halves[c] + 1 < c && 2 * axis->at[halves[c] + 1] <= axis->at[c])
            halves[c]++;
        first[c] = (int)axis->splits - 1; /* splits are counted from 1 */
        axis->splits += halves[c];
    }
    axis->halves = halves;
    axis->first = first;
}

static void fill_rests(struct axis *axis, struct dw_arena *arena)
{
    uint16_t *rest = dw_arena_alloc(arena, (size_t)axis->splits, sizeof *rest);
    for (int c = 0; c < axis->count; c++) {
        int last = c;
        for (int t = 1; t <= axis->halves[c]; t++) {
            while (axis->at[last] > axis->at[c] - axis->at[t])
                last--;
            rest[axis->first[c] + t] = (uint16_t)last;
        }
    }
    axis->rest = rest;
}

bool dwi_axis_make(const struct stretch *stretches, int count, int64_t side, int most, struct dw_arena *arena, struct axis *axis)
{
    struct dw_arena *scratch = dw_arena_child(arena);
    struct stretch *sorted = dw_arena_copy(scratch, stretches, (size_t)count, sizeof *stretches);
    int64_t *sums = dw_arena_alloc(scratch, (size_t)most, sizeof *sums);
    int64_t *spare = dw_arena_alloc(scratch, (size_t)most, sizeof *spare);
    if (count > 0)
        qsort(sorted, (size_t)count, sizeof *sorted, by_size);
    int made = all_sums(sorted, join_equal(sorted, count), side, most, sums, spare);
    if (made > 0) {
        made = keep_reached(sums, made, scratch);
        *axis = (struct axis){.count = made, .at = dw_arena_copy(arena, sums, (size_t)made, sizeof *sums)};
        fill_halves(axis, arena);
        fill_rests(axis, arena);
    }
    dw_arena_free(scratch);
    return made > 0;
}

int dwi_axis_up(const struct axis *axis, int64_t size)
{
    int low = 0, high = axis->count;
    while (low < high) {
        const int middle = low + (high - low) / 2;
        if (axis->at[middle] < size)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

int dwi_axis_down(const struct axis *axis, int64_t size)
{
    return dwi_axis_up(axis, size + 1) - 1;
}
