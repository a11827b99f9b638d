/* strip_layout.h - the same parts on the same sheets, in strips. */
#ifndef DWI_LAYOUT_STRIP_LAYOUT_H
#define DWI_LAYOUT_STRIP_LAYOUT_H

#include <drawerwright/cutting.h>

/* One way to lay strips. */
struct strip_way {
    enum dw_cut first;  /* the cut that makes the strips */
    bool turned;        /* parts that may be turned lie turned */
    bool snug;          /* strips are filled as full as can be, not longest part first */
};
enum { STRIP_WAYS = 8 };
struct strip_way dwi_strip_way(size_t number);

/* Lays the parts of `plan`'s layouts [first, first + count) anew on the same sheets, each strip of one width. Fills layouts[] (equal
 * sheets are one layout) and returns their number, or 0 when not all parts find their place that way or a sheet stays empty. Inside a guard of
 * `arena`; layouts[] has room for every sheet. */
size_t dwi_strips_lay(const struct dw_cut_request *request, const struct dw_cut_plan *plan, size_t first, size_t count, struct strip_way way,
                      struct dw_arena *arena, struct dw_cut_layout *layouts);

#endif
