/* saws.h - which saw can make a cut, and how. */
#ifndef DWI_LAYOUT_SAWS_H
#define DWI_LAYOUT_SAWS_H

#include <drawerwright/layout.h>

/* The saws of a shop as far as they suit a layout: their kerf is not wider than the one it was made for. Behind them those that are for rough
 * cuts only, and last of all the yard's. */
struct saws {
    const struct dw_saw *at;
    const size_t *places; /* of each: index into the shop's saws; DW_NO_INDEX for one that stands for "whatever you have" */
    size_t count;         /* that make a true cut */
    size_t total;         /* with the others */
    dw_length kerf;       /* of the layout */
    bool exact;           /* every one has the layout's kerf, so that what is left over has its size without a cut of its own */
};

/* A shop that names no saw gets a table saw and a track of no stated limits, save the general ones for safety. In `arena`. */
struct saws dwi_saws_of(const struct dw_shop *shop, dw_length kerf, struct dw_arena *arena);

/* A cut that is wanted. */
struct pass {
    dw_length along;  /* length of the cut: the edge that would lie against a fence */
    dw_length across; /* the panel across the cut */
    dw_length size;   /* of what is to come off; a trim: how much, kerf included */
    bool trim;
    bool whole_sheet; /* across a sheet as bought: the track comes first */
    bool rough_edge;  /* the edge that would lie against a fence is rough: what comes off is measured from it, what a trim leaves too */
    bool rough_far;   /* likewise the edge beyond, where the outside piece would be kept */
    bool off_rough;   /* a trim of a rough edge */
};

/* How it is made. */
struct way {
    size_t saw;       /* index into saws->at */
    enum dw_guide guide;
    dw_length setting;
    dw_length off, rest; /* what comes off and what is left, across the cut; <= 0: nothing */
};

/* False when no saw can make the cut. */
bool dwi_saws_way(const struct saws *saws, const struct pass *pass, struct way *way);

/* The rough cut so far from the edge: at the yard, or by the first saw of the shop that may make it; false when there is none. */
bool dwi_saws_rough_way(const struct saws *saws, bool yard, const struct pass *pass, struct way *way);

/* "rip fence", "sled or miter gauge with a stop", ... */
const char *dwi_saws_tool(const struct saws *saws, const struct way *way);

#endif
