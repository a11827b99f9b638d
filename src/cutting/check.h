/* check.h - what the two halves of the checker share; the optimizer includes none of it. */
#ifndef DWI_CUTTING_CHECK_H
#define DWI_CUTTING_CHECK_H

#include <drawerwright/cutting.h>

struct check {
    const struct dw_cut_request *request; /* without faults */
    const struct dw_cut_plan *plan;
    struct dw_faults *faults;
    struct dw_arena *arena; /* under a guard */
};

/* Adds a breach at `address`, an error of status DW_PROGRAM. */
void dwi_check_breach(const struct check *check, const char *code, const char *address, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* What the layouts hold: part by part, layout after layout. */
struct holdings {
    size_t *parts; /* index of the part of each piece that is one */
    size_t count;
    size_t capacity;
    size_t *ends;  /* for each layout the end of its pieces in `parts` */
};

/* The lower bound: each inequality of the certificate, and that the bound follows from them. The layouts have passed. */
void dwi_check_bound(const struct check *check, const struct holdings *held);

/* An upper bound on the value that one sheet s can yield for part values u, or -1 when *work, which falls by what was done, is not
 * enough to find it. rhs = the value of all parts <= INT64_MAX / 2. */
int64_t dwi_check_value(const struct check *check, size_t s, const int64_t *u, int64_t *work);

/* The same for every piece of the sheet, any stages: the most that a piece of x[i] by y[j] can yield is at most[i * y_count + j]. Sizes are
 * grown by the kerf. */
struct dwi_check_table {
    const dw_length *x, *y; /* rising, from 0 */
    int x_count, y_count;
    const int64_t *most;
};
bool dwi_check_table(const struct check *check, size_t s, const int64_t *u, int64_t *work, struct dwi_check_table *table);

/* Can one sheet s yield more than `limit` for part values u, no part oftener than it is wanted? UNKNOWN when *work, which falls by what
 * was done, is not enough. */
enum dwi_check_answer { DWI_CHECK_NO, DWI_CHECK_YES, DWI_CHECK_UNKNOWN };
enum dwi_check_answer dwi_check_boxes(const struct check *check, size_t s, const int64_t *u, int64_t limit, int64_t *work);

/* a + b and a * b of numbers >= 0, INT64_MAX where they would be larger. */
static inline int64_t dwi_check_add(int64_t a, int64_t b)
{
    int64_t sum = 0;
    return __builtin_add_overflow(a, b, &sum) ? INT64_MAX : sum;
}

static inline int64_t dwi_check_multiply(int64_t a, int64_t b)
{
    int64_t product = 0;
    return __builtin_mul_overflow(a, b, &product) ? INT64_MAX : product;
}

#endif
