/* size_program.c - the integer program whose columns are layouts and sizes.
 *
 *     x_j    how often layout j is cut; it holds a_ij of item i, from a sheet of source s(j) at price c
 *     y_cv   1 if choice c takes value v; it costs p_cv (slides)
 *     z_gk   1 if group g takes cell k, a pair of values of two choices; a group with one choice needs none, its cells are that choice's values
 *
 *     least   sum of c x_j + sum of p_cv y_cv
 *     with    sum of a_ij x_j - sum of d_igk z_gk >= b_i       of each item: what the chosen cells want, and what is wanted anyway
 *             sum over v of y_cv = 1                           of each choice
 *             sum over v of (v - most) y_cv = 0                of each bank's fronts: their sum is kept
 *             sum of z_gk over cells with value v of c = y_cv  of each group of two choices and each value of either
 *             sum of x_j over layouts of s <= count of s
 *
 * So a layout may cut a part in any of its sizes, and each choice takes exactly one value. The relaxed goals have x, y and z in shares; whole ones make y and x
 * integers, and z follows. Least change breaks ties: all changes together weigh less than half a cent.
 */
#include "coupled.h"

#include <math.h>
#include <string.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

enum { ITERATIONS = 20000, NODES = 400 };

struct program {
    struct dwi_columns *columns;
    enum dwi_size_goal goal;
    const int64_t *counts;
    dw_money extra, below;
    struct dw_lp *model;
    int first_choice, first_sum, first_link, first_source, budget; /* rows; those of items come first */
    int *link;               /* of each group of two choices: its first link row, inner values then outer ones; -1 */
    int *value_column;       /* of each choice: the column of its first value */
    double change_weight;
    int *rows;               /* of the column in the making */
    double *entries;
    size_t entry_count;
    struct dwi_size_answer *answer;
};

static const struct dwi_choices *choices_of(const struct program *program)
{
    return program->columns->choices;
}

static bool has_two(const struct dwi_group *group)
{
    return group->inner != DW_NO_INDEX && group->outer != DW_NO_INDEX;
}

/* ---- rows ---- */

static void add_rows(struct program *program)
{
    const struct dwi_choices *choices = choices_of(program);
    const struct dwi_columns *columns = program->columns;
    const bool mix = program->goal == DWI_WITHIN_MIX;
    for (size_t i = 0; i < choices->item_count; i++)
        (void)dw_lp_add_row(program->model, (double)choices->fixed[i], (double)INFINITY);
    program->first_choice = (int)choices->item_count;
    for (size_t c = 0; c < choices->count; c++)
        (void)dw_lp_add_row(program->model, 1, 1);
    program->first_sum = program->first_choice + (int)choices->count;
    for (size_t k = 0; k < columns->search->knobs.count; k++)
        (void)dw_lp_add_row(program->model, 0, 0);
    int next = program->first_link = program->first_sum + (int)columns->search->knobs.count;
    for (size_t g = 0; g < choices->group_count; g++) {
        const struct dwi_group *group = &choices->groups[g];
        program->link[g] = has_two(group) ? next : -1;
        for (size_t i = 0; has_two(group) && i < group->inner_count + group->outer_count; i++, next++)
            (void)dw_lp_add_row(program->model, 0, 0);
    }
    program->first_source = next;
    for (size_t s = 0; s < columns->source_count; s++, next++)
        (void)dw_lp_add_row(program->model, 0, (double)(mix ? program->counts[s] : columns->sources[s].most));
    program->budget = next;
    (void)dw_lp_add_row(program->model, -(double)INFINITY, mix ? (double)program->extra : (double)INFINITY);
}

/* ---- columns ---- */

static void put(struct program *program, int row, double entry)
{
    if (entry == 0)
        return;
    program->rows[program->entry_count] = row;
    program->entries[program->entry_count++] = entry;
}

static int add_column(struct program *program, double cost, double upper, bool whole)
{
    const int column = dw_lp_add_column(program->model, cost, 0, upper, whole, program->rows, program->entries, program->entry_count);
    program->entry_count = 0;
    return column;
}

static void put_wants(struct program *program, size_t group, size_t cell)
{
    const struct dwi_columns *columns = program->columns;
    const size_t *first = columns->first_want + columns->first_cell[group] + cell;
    for (size_t w = first[0]; w < first[1]; w++)
        put(program, (int)columns->choices->wants[w].item, -(double)columns->choices->wants[w].count);
}

/* The group that hangs on this choice alone; group_count when there is none. */
static size_t group_alone(const struct dwi_choices *choices, size_t choice)
{
    size_t g = 0;
    while (g < choices->group_count && (has_two(&choices->groups[g]) || (choices->groups[g].inner != choice && choices->groups[g].outer != choice)))
        g++;
    return g;
}

static bool may_be(const struct dwi_choices *choices, size_t choice, size_t value)
{
    const size_t alone = group_alone(choices, choice);
    return alone == choices->group_count || choices->groups[alone].known[value];
}

static void add_value(struct program *program, size_t choice, size_t value)
{
    const struct dwi_choices *choices = choices_of(program);
    const struct dwi_knobs *knobs = &program->columns->search->knobs;
    const struct dwi_choice *one = &choices->at[choice];
    const size_t alone = group_alone(choices, choice);
    const double price = (double)dwi_choice_price(choices, knobs, choice, value);
    const double change = program->change_weight * (double)dwi_choice_distance(choices, knobs, choice, value);
    if (alone < choices->group_count)
        put_wants(program, alone, value);
    put(program, program->first_choice + (int)choice, 1);
    if (knobs->at[one->knob].kind == DWI_FRONTS)
        put(program, program->first_sum + (int)one->knob, (double)value - (double)one->base);
    for (size_t g = 0; g < choices->group_count; g++) {
        if (!has_two(&choices->groups[g]))
            continue;
        if (choices->groups[g].inner == choice)
            put(program, program->link[g] + (int)value, -1);
        if (choices->groups[g].outer == choice)
            put(program, program->link[g] + (int)(choices->groups[g].inner_count + value), -1);
    }
    put(program, program->budget, price);
    const double cost = program->goal == DWI_LEAST_MONEY ? price : program->goal == DWI_WHOLE ? price + change : 0;
    const bool within = value >= program->columns->low[choice] && value <= program->columns->high[choice];
    const int column = add_column(program, cost, within && may_be(choices, choice, value) ? 1 : 0, program->goal == DWI_WHOLE);
    if (value == 0)
        program->value_column[choice] = column;
}

static void add_cells(struct program *program, size_t g)
{
    const struct dwi_group *group = &choices_of(program)->groups[g];
    for (size_t cell = 0; cell < group->inner_count * group->outer_count; cell++) {
        put_wants(program, g, cell);
        put(program, program->link[g] + (int)(cell / group->outer_count), 1);
        put(program, program->link[g] + (int)(group->inner_count + cell % group->outer_count), 1);
        (void)add_column(program, 0, group->known[cell] ? 1 : 0, false);
    }
}

static void add_layout(struct program *program, const struct dwi_column *layout)
{
    const double price = program->goal == DWI_WITHIN_MIX ? 0 : (double)program->columns->sources[layout->source].price;
    for (size_t i = 0; i < choices_of(program)->item_count; i++)
        put(program, (int)i, (double)layout->counts[i]);
    put(program, program->first_source + (int)layout->source, 1);
    (void)add_column(program, price, (double)INFINITY, program->goal == DWI_WHOLE);
}

static void add_columns(struct program *program)
{
    const struct dwi_choices *choices = choices_of(program);
    for (size_t c = 0; c < choices->count; c++)
        for (size_t v = 0; v < choices->at[c].value_count; v++)
            add_value(program, c, v);
    for (size_t g = 0; g < choices->group_count; g++)
        if (has_two(&choices->groups[g]))
            add_cells(program, g);
    for (size_t i = 0; program->goal == DWI_WITHIN_MIX && i < choices->item_count; i++) {
        put(program, (int)i, 1);
        (void)add_column(program, 1, (double)INFINITY, false);
    }
    for (size_t j = 0; j < program->columns->layout_count; j++)
        add_layout(program, &program->columns->layouts[j]);
}

/* ---- the answer ---- */

static void read_relaxed(struct program *program)
{
    struct dwi_size_answer *answer = program->answer;
    for (size_t i = 0; i < choices_of(program)->item_count; i++)
        answer->u[i] = fmax(0, dw_lp_dual(program->model, (int)i));
    for (size_t s = 0; s < program->columns->source_count; s++)
        answer->held[s] = fmax(0, -dw_lp_dual(program->model, program->first_source + (int)s));
    for (size_t c = 0; c < choices_of(program)->count; c++)
        for (size_t v = 0; v < choices_of(program)->at[c].value_count; v++)
            answer->shares[program->columns->first_value[c] + v] = dw_lp_value(program->model, program->value_column[c] + (int)v);
    answer->money = program->goal == DWI_LEAST_MONEY ? 1 : fmax(0, -dw_lp_dual(program->model, program->budget));
}

static bool read_values(struct program *program)
{
    const struct dwi_choices *choices = choices_of(program);
    for (size_t c = 0; c < choices->count; c++) {
        size_t v = 0;
        while (v < choices->at[c].value_count && dw_lp_integer_value(program->model, program->value_column[c] + (int)v) != 1)
            v++;
        if (v == choices->at[c].value_count)
            return false;
        program->answer->values[c] = v;
    }
    return true;
}

static void solve_body(void *context)
{
    struct program *program = context;
    struct dwi_size_answer *answer = program->answer;
    add_rows(program);
    add_columns(program);
    if (program->goal == DWI_WHOLE) {
        const enum dw_lp_answer got = dw_lp_solve_integer(program->model, NODES, (double)program->below - 0.5);
        answer->solved = (got == DW_LP_OPTIMAL || got == DW_LP_FEASIBLE) && read_values(program);
    } else if (dw_lp_solve(program->model, ITERATIONS) == DW_LP_OPTIMAL) {
        answer->solved = true;
        answer->value = dw_lp_objective(program->model);
        read_relaxed(program);
    }
    program->columns->work -= dw_lp_work(program->model);
}

/* All changes together come to less than half a cent. */
static double change_weight(const struct dwi_columns *columns)
{
    double most = 1;
    for (size_t c = 0; c < columns->choices->count; c++) {
        dw_length choice = 0;
        for (size_t v = 0; v < columns->choices->at[c].value_count; v++)
            choice = dw_most(choice, dwi_choice_distance(columns->choices, &columns->search->knobs, c, v));
        most += (double)choice;
    }
    return 0.4 / most;
}

struct dwi_size_answer dwi_size_program(struct dwi_columns *columns, enum dwi_size_goal goal, const int64_t *counts, dw_money extra, dw_money below,
                                        struct dw_arena *arena)
{
    const struct dwi_choices *choices = columns->choices;
    struct dwi_size_answer answer = {.u = dw_arena_alloc(arena, choices->item_count, sizeof *answer.u),
                                     .held = dw_arena_alloc(arena, columns->source_count, sizeof *answer.held),
                                     .shares = dw_arena_alloc(arena, columns->first_value[choices->count], sizeof *answer.shares),
                                     .values = dw_arena_alloc(arena, choices->count, sizeof *answer.values)};
    const size_t most_entries = choices->item_count + 2 * choices->group_count + 8;
    struct dw_arena *scratch = dw_arena_child(arena);
    struct program program = {.columns = columns, .goal = goal, .counts = counts, .extra = extra, .below = below, .answer = &answer,
                              .change_weight = change_weight(columns),
                              .link = dw_arena_alloc(scratch, choices->group_count, sizeof *program.link),
                              .value_column = dw_arena_alloc(scratch, choices->count, sizeof *program.value_column),
                              .rows = dw_arena_alloc(scratch, most_entries, sizeof *program.rows),
                              .entries = dw_arena_alloc(scratch, most_entries, sizeof *program.entries),
                              .model = dw_lp_new()};
    const bool done = program.model != NULL && dw_arena_guard(scratch, solve_body, &program);
    dw_lp_free(program.model);
    if (!done)
        dw_arena_exhaust(arena);
    dw_arena_free(scratch);
    return answer;
}
