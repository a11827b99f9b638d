/* least_wish.c - the least that a setting of the choices can want, measured by values of items.
 *
 * It is the right side of an inequality that holds of every setting: whatever is chosen, the sheets must yield that much. Slide lengths are gone
 * through one combination after the other. With these fixed, drawers hang on one choice each, so a choice's values have sums of their own; a size alone
 * takes its least, and the fronts of a bank are chosen by a dynamic program over the sum of their shifts, which must end at 0.
 */
#include "coupled.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

#define CANNOT (INT64_MAX / 4)

struct wishing {
    const struct dwi_columns *columns;
    const struct dwi_choices *choices;
    const struct dwi_knobs *knobs;
    int64_t **cells;         /* of each group: the value of what each cell wants */
    size_t *outer;           /* the value at hand of each outer choice */
    int64_t **sums;          /* of each inner choice: of each value, with the outer ones at hand */
    struct dw_arena *arena;
};

static void value_cells(struct wishing *wishing, const int64_t *u)
{
    const struct dwi_choices *choices = wishing->choices;
    wishing->cells = dw_arena_alloc(wishing->arena, choices->group_count, sizeof *wishing->cells);
    for (size_t g = 0; g < choices->group_count; g++) {
        const struct dwi_group *group = &choices->groups[g];
        const size_t cells = group->inner_count * group->outer_count;
        wishing->cells[g] = dw_arena_alloc(wishing->arena, cells, sizeof **wishing->cells);
        for (size_t cell = 0; cell < cells; cell++)
            wishing->cells[g][cell] = group->known[cell] ? 0 : CANNOT;
    }
    for (size_t w = 0; w < choices->want_count; w++) {
        const struct dwi_want *want = &choices->wants[w];
        wishing->cells[want->group][want->cell] += want->count * u[want->item];
    }
}

static int64_t plus(int64_t a, int64_t b)
{
    return a >= CANNOT || b >= CANNOT ? CANNOT : a + b;
}

/* What groups without an inner choice want; those with one go into its sums. */
static int64_t sum_up(struct wishing *wishing)
{
    const struct dwi_choices *choices = wishing->choices;
    int64_t alone = 0;
    for (size_t c = 0; c < choices->count; c++)
        for (size_t v = 0; v < choices->at[c].value_count; v++)
            wishing->sums[c][v] = v < wishing->columns->low[c] || v > wishing->columns->high[c] ? CANNOT : 0;
    for (size_t g = 0; g < choices->group_count; g++) {
        const struct dwi_group *group = &choices->groups[g];
        const size_t outer = group->outer == DW_NO_INDEX ? 0 : wishing->outer[group->outer];
        for (size_t inner = 0; inner < group->inner_count; inner++) {
            const int64_t value = wishing->cells[g][inner * group->outer_count + outer];
            int64_t *sum = group->inner == DW_NO_INDEX ? &alone : &wishing->sums[group->inner][inner];
            *sum = plus(*sum, value);
        }
    }
    return alone;
}

/* The choices [first, last) are the fronts of one knob: least[sum of shifts so far], from the one in the middle. */
static int64_t least_of_fronts(const struct wishing *wishing, size_t first, size_t last)
{
    const int most = wishing->knobs->at[wishing->choices->at[first].knob].fronts.most;
    const int reach = most * (int)(last - first);
    const size_t width = 2 * (size_t)reach + 1;
    int64_t *least = dw_arena_alloc(wishing->arena, 2 * width, sizeof *least);
    int64_t *next = least + width;
    for (size_t i = 0; i < width; i++)
        least[i] = (int)i == reach ? 0 : CANNOT;
    for (size_t c = first; c < last; c++) {
        for (size_t i = 0; i < width; i++)
            next[i] = CANNOT;
        for (int sum = -reach; sum <= reach; sum++)
            for (int shift = -most; shift <= most; shift++)
                if (least[sum + reach] < CANNOT && abs(sum + shift) <= reach) {
                    const int64_t value = plus(least[sum + reach], wishing->sums[c][shift + most]);
                    next[sum + shift + reach] = dw_least(next[sum + shift + reach], value);
                }
        memcpy(least, next, width * sizeof *least);
    }
    return least[reach];
}

static int64_t least_of_one(const struct wishing *wishing, size_t choice)
{
    int64_t least = CANNOT;
    for (size_t v = 0; v < wishing->choices->at[choice].value_count; v++)
        least = dw_least(least, wishing->sums[choice][v]);
    return least;
}

static int64_t least_now(struct wishing *wishing, int64_t money)
{
    const struct dwi_choices *choices = wishing->choices;
    int64_t least = sum_up(wishing);
    for (size_t c = 0; c < choices->count;) {
        size_t next = c + 1;
        while (next < choices->count && choices->at[next].knob == choices->at[c].knob)
            next++;
        if (choices->at[c].outer)
            least = plus(least, plus(wishing->sums[c][wishing->outer[c]], money * dwi_choice_price(choices, wishing->knobs, c, wishing->outer[c])));
        else if (wishing->knobs->at[choices->at[c].knob].kind == DWI_FRONTS)
            least = plus(least, least_of_fronts(wishing, c, next));
        else
            least = plus(least, least_of_one(wishing, c));
        c = next;
    }
    return least;
}

/* Like a counter over the outer choices: false after the last combination. */
static bool next_outer(const struct dwi_choices *choices, size_t *values)
{
    for (size_t c = 0; c < choices->count; c++) {
        if (!choices->at[c].outer)
            continue;
        if (++values[c] < choices->at[c].value_count)
            return true;
        values[c] = 0;
    }
    return false;
}

int64_t dwi_least_wish(const struct dwi_columns *columns, const int64_t *u, int64_t money, struct dw_arena *arena)
{
    const struct dwi_choices *choices = columns->choices;
    struct wishing wishing = {.columns = columns, .choices = choices, .knobs = &columns->search->knobs, .arena = dw_arena_child(arena)};
    value_cells(&wishing, u);
    wishing.outer = dw_arena_alloc(wishing.arena, choices->count, sizeof *wishing.outer);
    wishing.sums = dw_arena_alloc(wishing.arena, choices->count, sizeof *wishing.sums);
    for (size_t c = 0; c < choices->count; c++)
        wishing.sums[c] = dw_arena_alloc(wishing.arena, choices->at[c].value_count, sizeof **wishing.sums);
    int64_t least = CANNOT;
    do {
        least = dw_least(least, least_now(&wishing, money));
    } while (next_outer(choices, wishing.outer));
    for (size_t i = 0; i < choices->item_count; i++)
        least = plus(least, choices->fixed[i] * u[i]);
    dw_arena_free(wishing.arena);
    return least;
}

static void insert(dw_money *sums, size_t *count, dw_money sum)
{
    size_t at = *count;
    while (at > 0 && sums[at - 1] > sum)
        at--;
    if (at > 0 && sums[at - 1] == sum)
        return;
    memmove(&sums[at + 1], &sums[at], (*count - at) * sizeof *sums);
    sums[at] = sum;
    ++*count;
}

dw_money *dwi_all_extras(const struct dwi_choices *choices, const struct dwi_knobs *knobs, size_t *count, struct dw_arena *arena)
{
    size_t combinations = 1;
    for (size_t c = 0; c < choices->count; c++)
        combinations *= choices->at[c].outer ? choices->at[c].value_count : 1;
    dw_money *sums = dw_arena_alloc(arena, combinations, sizeof *sums);
    size_t *values = dw_arena_alloc(arena, choices->count, sizeof *values);
    *count = 0;
    do {
        dw_money sum = 0;
        for (size_t c = 0; c < choices->count; c++)
            sum += choices->at[c].outer ? dwi_choice_price(choices, knobs, c, values[c]) : 0;
        insert(sums, count, sum);
    } while (next_outer(choices, values));
    return sums;
}
