/* insertion.h - where a part goes best in the sheets begun. */
#ifndef DWI_CUTTING_INSERTION_H
#define DWI_CUTTING_INSERTION_H

#include "meter.h"
#include "random.h"
#include "slicing.h"

/* What makes a place bad, each term an area times a small weight; drawn anew for each pass. */
struct taste {
    int growth;   /* of the area of the sheet's whole layout */
    int enclosed; /* waste closed in beside the neighbor */
    int margin;   /* smaller margin left around the part, times its longer side */
    int emptiness; /* free area of the sheet afterwards */
    int blink;    /* about one place in so many is not seen; 0: all are */
};

struct place {
    int64_t score; /* less is better */
    int at;
    enum slice_kind kind;
    bool turned;
};

/* A taste at random. */
struct taste dwi_taste_draw(struct random *random);

/* The best place for an item in one sheet; false when there is none (that was seen). Counts its work into *ticks. */
bool dwi_find_place(const struct sheet *sheet, int item, const struct taste *taste, struct random *random, int64_t *ticks,
                    struct place *place);

/* Puts as many of the items wanted[] as fit into the sheet, in the order given by ranks[0 .. count - 1] (item indices), each
 * as often as it is wanted, and lowers wanted[]. */
void dwi_fill(struct sheet *sheet, const int *ranks, int count, int64_t *wanted, const struct taste *taste,
              struct random *random, int64_t *ticks, struct dw_arena *arena);

#endif
