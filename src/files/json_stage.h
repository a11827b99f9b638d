/* json_stage.h - pieces of JSON that several of this room's writers share. */
#ifndef DWI_FILES_JSON_STAGE_H
#define DWI_FILES_JSON_STAGE_H

#include <drawerwright/fault.h>
#include <drawerwright/purchase.h>

#include "json_write.h"

/* {"grade", "code", "address", "wrong", "cure"} */
void dwi_json_fault(struct dwi_json *json, const struct dw_fault *fault);

/* One object a drawer of a sizing, into the open array; with every step of figuring, or only the figures. */
void dwi_json_drawers(struct dwi_json *json, const struct dw_sizing *sizing, bool figuring);

/* "purchase", "cost", "hardware" into the open object. */
void dwi_json_purchase_keys(struct dwi_json *json, const struct dw_purchase *purchase);

#endif
