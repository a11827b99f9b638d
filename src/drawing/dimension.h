/* dimension.h - chains of dimensions as a shop draws them: one line, slashes at its joints, every figure readable without turning the sheet. */
#ifndef DW_DRAWING_DIMENSION_H
#define DW_DRAWING_DIMENSION_H

#include "scene.h"

/* From here to there it measures so much. from <= to. */
struct dwi_span {
    dw_dot from, to;
    const char *text;
    const char *address;
};

struct dwi_chain {
    const struct dwi_span *spans; /* one behind the other */
    size_t count;
    dw_dot at;        /* where the line runs: y of a level chain, x of an upright one */
    dw_dot object;    /* edge of the thing measured; extension lines come from there */
    int side;         /* where figures go that do not fit into their span: +1 to greater coordinates, -1 to lesser ones */
    dw_dot low, high; /* no figure leaves this stretch along the line */
};

/* Of two chains side by side the outer one is drawn first: its extension lines then give way to the figures of the inner one. */
void dwi_chain_level(struct dwi_pad *pad, const struct dwi_chain *chain);
void dwi_chain_upright(struct dwi_pad *pad, const struct dwi_chain *chain);

/* How far from the line figures reach on its side, and on the other one. */
dw_dot dwi_chain_reach(struct dw_arena *arena, const struct dwi_chain *chain, bool level);
dw_dot dwi_chain_half(struct dw_arena *arena, const struct dwi_chain *chain, bool level);

/* Moves centers of things of these sizes apart, in their order, as little as it can be done within low .. high. False when they do not fit. */
bool dwi_spread(struct dw_arena *arena, dw_dot *centers, const dw_dot *sizes, size_t count, dw_dot low, dw_dot high);

/* Heights above a floor, each with a figure beside it, as on a story stick: figures to the right of x, moved apart where they crowd. */
struct dwi_height {
    dw_dot at;
    const char *text;
    const char *address;
};
void dwi_heights(struct dwi_pad *pad, dw_dot x, dw_dot floor, const struct dwi_height *heights, size_t count, dw_dot low, dw_dot high);

#endif
