/* pieces.h - a cutting plan as sheets with named pieces. */
#ifndef DWI_LAYOUT_PIECES_H
#define DWI_LAYOUT_PIECES_H

#include <drawerwright/layout.h>

/* Fills the sheets and areas of `layout`, whose problem is set. faults may be NULL: then tight sheets are not warned of. Inside a guard of
 * `arena`. */
void dwi_layout_pieces(const struct dw_parts *const *jobs, const struct dw_cut_plan *plan, struct dw_arena *arena,
                       struct dw_faults *faults, struct dw_material_layout *layout);

#endif
