/* without.h - methods left out, to measure what each of them brings. For the bench and tests only: dw_cut_solve leaves out nothing.
 *
 * What is found and proved without a method is as right as with it: bounds stay bounds, plans are checked.
 */
#ifndef DWI_CUTTING_WITHOUT_H
#define DWI_CUTTING_WITHOUT_H

#include "problem.h"

/* A set of bits; the words for them are in dwi_method_words. */
enum dwi_method {
    DWI_VALUES = 1 << 0,  /* values.c: sequential value correction */
    DWI_RUIN = 1 << 1,    /* ruin.c: goal-driven ruin and recreate (the last polish keeps it) */
    DWI_HOLES = 1 << 2,   /* holes.c: free area in few holes */
    DWI_STRIPS = 1 << 3,  /* strips.c: big jobs in strips first */
    DWI_CHOICE = 1 << 4,  /* choose.c: the integer program over the pool */
    DWI_ROUNDED = 1 << 5, /* starts from the rounded relaxation */
    DWI_PRICED = 1 << 6,  /* master.c: column generation on the whole problem */
    DWI_COUNTED = 1 << 7, /* master.c: rows that exclude the blocking mix */
    DWI_DUALS = 1 << 8,   /* bounds.c: dual-feasible functions */
    DWI_LIMITED = 1 << 9, /* limited.c: the sets worth most, no item oftener than wanted */
    DWI_SWAP = 1 << 10,   /* swap.c: in ruin and recreate, a piece without a place pushes out smaller ones */
};

enum { DWI_METHODS = 11 };

static inline bool dwi_left_out(const struct problem *problem, enum dwi_method method)
{
    return (problem->without & (unsigned)method) != 0;
}

/* The words of all methods, bit 0 first. */
extern const char *const dwi_method_words[DWI_METHODS];

/* dw_cut_solve without the methods whose bits are set. */
enum dw_status dwi_solve_without(const struct dw_cut_request *request, unsigned without, const struct dw_control *control,
                                 struct dw_arena *arena, struct dw_faults *faults, const struct dw_cut_plan **plan);

#endif
