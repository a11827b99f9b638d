/* json_leeway.h - leeway as keys of a purchase's and a plan's JSON. */
#ifndef DWI_FILES_JSON_LEEWAY_H
#define DWI_FILES_JSON_LEEWAY_H

#include <drawerwright/purchase.h>

#include "json_write.h"

/* "leeway" and "near", each null where nobody asked. */
void dwi_json_leeway_keys(struct dwi_json *json, const struct dw_purchase *purchase);

/* "given": what plans before this one settled, and what sizes gave in this one. */
void dwi_json_given(struct dwi_json *json, const struct dw_purchase *purchase);

#endif
