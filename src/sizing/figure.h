/* figure.h - building a figure step by step. The running value is kept, so that a figure can steer its own making. */
#ifndef DRAWERWRIGHT_SIZING_FIGURE_H
#define DRAWERWRIGHT_SIZING_FIGURE_H

#include <drawerwright/sizing.h>

/* A figure in the making. Begin with dwi_figure_start; all calls only inside a guard of `arena`. */
struct dwi_figuring {
    struct dw_arena *arena;
    const char *name;
    struct dw_step *steps;
    size_t count, capacity;
    dw_length value; /* the running figure */
};

/* `name` and all words are borrowed: literals, or text in an arena that lives as long as the figure. */
struct dwi_figuring dwi_figure_start(struct dw_arena *arena, const char *name, const char *words, dw_length amount);

/* Goes on from a finished figure: its value is the first step. */
struct dwi_figuring dwi_figure_from(struct dw_arena *arena, const char *name, const char *words,
                                    const struct dw_figure *figure);

/* The whole of a finished figure over again, to be carried on. */
struct dwi_figuring dwi_figure_copy(struct dw_arena *arena, const char *name, const struct dw_figure *figure);

/* One more step. Adding or subtracting nothing leaves no step; so does a bound that does not bind, or rounding to no step. */
void dwi_figure_add(struct dwi_figuring *figuring, const char *words, dw_length amount);
void dwi_figure_subtract(struct dwi_figuring *figuring, const char *words, dw_length amount);
void dwi_figure_times(struct dwi_figuring *figuring, const char *words, int64_t numerator, int64_t denominator);
void dwi_figure_down_to(struct dwi_figuring *figuring, const char *words, dw_length step);
void dwi_figure_up_to(struct dwi_figuring *figuring, const char *words, dw_length step);
void dwi_figure_at_most(struct dwi_figuring *figuring, const char *words, dw_length most);
void dwi_figure_at_least(struct dwi_figuring *figuring, const char *words, dw_length least);

struct dw_figure dwi_figure_done(const struct dwi_figuring *figuring);

/* A figure of one step: a value that was given. */
struct dw_figure dwi_figure_given(struct dw_arena *arena, const char *name, const char *words, dw_length amount);

/* value x numerator / denominator, rounded down, through 128 bits. denominator > 0; the result must fit. */
dw_length dwi_scale_down(dw_length value, int64_t numerator, int64_t denominator);

#endif
