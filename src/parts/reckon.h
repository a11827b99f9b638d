/* reckon.h - a part's figure as it is reckoned: start from a size, add, take off and round down, keep every step. */
#ifndef DRAWERWRIGHT_PARTS_RECKON_H
#define DRAWERWRIGHT_PARTS_RECKON_H

#include <drawerwright/sizing.h>

/* A figure in the making; `value` is the running sum. All calls only inside a guard of `arena`. Names and words are borrowed. */
struct dwi_reckoning {
    struct dw_arena *arena;
    const char *name;
    dw_length value;
    struct dw_step *steps;
    size_t count, capacity;
};

struct dwi_reckoning dwi_reckon(struct dw_arena *arena, const char *name, const char *words, dw_length start);

/* All the steps of a finished figure, to be carried on. */
struct dwi_reckoning dwi_reckon_on(struct dw_arena *arena, const char *name, const struct dw_figure *figure);

/* Adding or taking off nothing leaves no step. */
void dwi_reckon_add(struct dwi_reckoning *sum, const char *words, dw_length amount);
void dwi_reckon_less(struct dwi_reckoning *sum, const char *words, dw_length amount);

/* Rounds down to a multiple of `step`; on it already, or with a step of 0, nothing is done. */
void dwi_reckon_down(struct dwi_reckoning *sum, const char *words, dw_length to);

struct dw_figure dwi_reckoned(const struct dwi_reckoning *sum);

#endif
