/* reckon.c - figures of the parts room. They only start, add, take off and round down; sizing has the richer ones. */
#include "reckon.h"

#include <drawerwright/memory.h>

static dw_length after(dw_length value, enum dw_operation operation, dw_length amount)
{
    return operation == DW_DOWN_TO ? dw_round_down(value, amount) : operation == DW_SUBTRACT ? value - amount : value + amount;
}

static void step(struct dwi_reckoning *sum, const char *words, enum dw_operation operation, dw_length amount)
{
    sum->value = after(sum->value, operation, amount);
    sum->steps = dw_arena_grow(sum->arena, sum->steps, sum->count, &sum->capacity, sizeof *sum->steps);
    sum->steps[sum->count++] = (struct dw_step){.words = words, .operation = operation, .amount = amount, .after = sum->value};
}

struct dwi_reckoning dwi_reckon(struct dw_arena *arena, const char *name, const char *words, dw_length start)
{
    struct dwi_reckoning sum = {.arena = arena, .name = name};
    step(&sum, words, DW_START, start);
    return sum;
}

struct dwi_reckoning dwi_reckon_on(struct dw_arena *arena, const char *name, const struct dw_figure *figure)
{
    return (struct dwi_reckoning){.arena = arena,
                                  .name = name,
                                  .value = figure->value,
                                  .steps = dw_arena_copy(arena, figure->steps, figure->step_count, sizeof *figure->steps),
                                  .count = figure->step_count,
                                  .capacity = figure->step_count};
}

void dwi_reckon_add(struct dwi_reckoning *sum, const char *words, dw_length amount)
{
    if (amount != 0)
        step(sum, words, DW_ADD, amount);
}

void dwi_reckon_less(struct dwi_reckoning *sum, const char *words, dw_length amount)
{
    if (amount != 0)
        step(sum, words, DW_SUBTRACT, amount);
}

void dwi_reckon_down(struct dwi_reckoning *sum, const char *words, dw_length to)
{
    if (to > 0 && sum->value % to != 0)
        step(sum, words, DW_DOWN_TO, to);
}

struct dw_figure dwi_reckoned(const struct dwi_reckoning *sum)
{
    return (struct dw_figure){.name = sum->name, .value = sum->value, .steps = sum->steps, .step_count = sum->count};
}
