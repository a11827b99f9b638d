/* drawings.h - the sheets of a plan, drawn for the page. */
#ifndef DWI_PAGE_DRAWINGS_H
#define DWI_PAGE_DRAWINGS_H

#include <drawerwright/purchase.h>
#include <drawerwright/text.h>

/* Adds [{"name": "S1", "svg": "..."}], one for each way in which a sheet is cut; a drawing that cannot be made is left out, with a fault. Only the layouts
 * of the purchase need to be there. In a guard of out's arena. */
void dwi_drawings_of(const struct dw_purchase *purchase, struct dw_faults *faults, struct dw_text *out);

#endif
