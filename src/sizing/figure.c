/* figure.c - a figure is a value and the steps that lead to it.
 *
 * One function, run_step, knows what every operation does. The builder uses it to keep the running value while
 * a figure is made, and dw_figure_again uses it to do a finished one over; the two differ in what they trust: the
 * second reads nothing but the operations and their amounts.
 */
#include "figure.h"

#include <assert.h>

#include <drawerwright/memory.h>

__extension__ typedef __int128 wide;

dw_length dwi_scale_down(dw_length value, int64_t numerator, int64_t denominator)
{
    assert(denominator > 0);
    const wide product = (wide)value * numerator;
    const wide whole = product / denominator;
    return (dw_length)(product % denominator < 0 ? whole - 1 : whole);
}

/* The running figure after `step`; DW_LENGTH_UNSET when the step is ill-formed. */
static dw_length run_step(dw_length running, const struct dw_step *step)
{
    switch (step->operation) {
    case DW_START:
        return step->amount;
    case DW_ADD:
        return running + step->amount;
    case DW_SUBTRACT:
        return running - step->amount;
    case DW_TIMES:
        return step->denominator > 0 ? dwi_scale_down(running, step->numerator, step->denominator) : DW_LENGTH_UNSET;
    case DW_DOWN_TO:
        return step->amount > 0 ? dw_round_down(running, step->amount) : DW_LENGTH_UNSET;
    case DW_UP_TO:
        return step->amount > 0 ? dw_round_up(running, step->amount) : DW_LENGTH_UNSET;
    case DW_AT_MOST:
        return dw_least(running, step->amount);
    case DW_AT_LEAST:
        return dw_most(running, step->amount);
    }
    return DW_LENGTH_UNSET;
}

dw_length dw_figure_again(const struct dw_figure *figure)
{
    if (figure->step_count == 0 || figure->steps[0].operation != DW_START)
        return DW_LENGTH_UNSET;
    dw_length running = figure->steps[0].amount;
    for (size_t i = 1; i < figure->step_count && running != DW_LENGTH_UNSET; i++) {
        const bool restart = figure->steps[i].operation == DW_START;
        running = restart ? DW_LENGTH_UNSET : run_step(running, &figure->steps[i]);
    }
    return running;
}

static void append(struct dwi_figuring *figuring, struct dw_step step)
{
    step.after = run_step(figuring->value, &step);
    figuring->value = step.after;
    figuring->steps = dw_arena_grow(figuring->arena, figuring->steps, figuring->count, &figuring->capacity,
                                    sizeof *figuring->steps);
    figuring->steps[figuring->count++] = step;
}

struct dwi_figuring dwi_figure_start(struct dw_arena *arena, const char *name, const char *words, dw_length amount)
{
    struct dwi_figuring figuring = {.arena = arena, .name = name};
    append(&figuring, (struct dw_step){.words = words, .operation = DW_START, .amount = amount});
    return figuring;
}

struct dwi_figuring dwi_figure_from(struct dw_arena *arena, const char *name, const char *words,
                                    const struct dw_figure *figure)
{
    return dwi_figure_start(arena, name, words, figure->value);
}

struct dwi_figuring dwi_figure_copy(struct dw_arena *arena, const char *name, const struct dw_figure *figure)
{
    struct dwi_figuring figuring = {.arena = arena, .name = name};
    for (size_t i = 0; i < figure->step_count; i++)
        append(&figuring, figure->steps[i]);
    return figuring;
}

void dwi_figure_add(struct dwi_figuring *figuring, const char *words, dw_length amount)
{
    if (amount != 0)
        append(figuring, (struct dw_step){.words = words, .operation = DW_ADD, .amount = amount});
}

void dwi_figure_subtract(struct dwi_figuring *figuring, const char *words, dw_length amount)
{
    if (amount != 0)
        append(figuring, (struct dw_step){.words = words, .operation = DW_SUBTRACT, .amount = amount});
}

void dwi_figure_times(struct dwi_figuring *figuring, const char *words, int64_t numerator, int64_t denominator)
{
    if (numerator != denominator)
        append(figuring, (struct dw_step){.words = words, .operation = DW_TIMES, .numerator = numerator,
                                          .denominator = denominator});
}

void dwi_figure_down_to(struct dwi_figuring *figuring, const char *words, dw_length step)
{
    if (step > 0)
        append(figuring, (struct dw_step){.words = words, .operation = DW_DOWN_TO, .amount = step});
}

void dwi_figure_up_to(struct dwi_figuring *figuring, const char *words, dw_length step)
{
    if (step > 0)
        append(figuring, (struct dw_step){.words = words, .operation = DW_UP_TO, .amount = step});
}

void dwi_figure_at_most(struct dwi_figuring *figuring, const char *words, dw_length most)
{
    if (most < figuring->value)
        append(figuring, (struct dw_step){.words = words, .operation = DW_AT_MOST, .amount = most});
}

void dwi_figure_at_least(struct dwi_figuring *figuring, const char *words, dw_length least)
{
    if (least > figuring->value)
        append(figuring, (struct dw_step){.words = words, .operation = DW_AT_LEAST, .amount = least});
}

struct dw_figure dwi_figure_done(const struct dwi_figuring *figuring)
{
    return (struct dw_figure){.name = figuring->name,
                              .value = figuring->value,
                              .steps = figuring->steps,
                              .step_count = figuring->count};
}

struct dw_figure dwi_figure_given(struct dw_arena *arena, const char *name, const char *words, dw_length amount)
{
    const struct dwi_figuring figuring = dwi_figure_start(arena, name, words, amount);
    return dwi_figure_done(&figuring);
}
