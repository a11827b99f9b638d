/* pieces.h - a cutting plan as sheets with named pieces. */
#ifndef DWI_LAYOUT_PIECES_H
#define DWI_LAYOUT_PIECES_H

#include <drawerwright/layout.h>

#include "ladder.h"

/* Offcuts that are not kept after all, by their marks. All-zero: none. */
struct given_up {
    const char **marks;
    size_t count, capacity;
};

/* Fills the sheets and areas of `layout`, whose problem is set. faults may be NULL: then tight sheets are not warned of. Inside a guard of
 * `arena`. */
void dwi_layout_pieces(const struct dw_parts *const *jobs, const struct dw_cut_plan *plan, const struct given_up *given_up,
                       struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout);

/* Lays the plan out, giving up every offcut that no saw of the shop can cut free, and says what its ladder comes to. */
struct ladder_count dwi_layout_try(const struct dw_parts *const *jobs, const struct dw_cut_plan *plan, struct given_up *given_up,
                                   struct dw_arena *arena, struct dw_material_layout *layout);

#endif
