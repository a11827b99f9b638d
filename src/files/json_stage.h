/* json_stage.h - pieces of JSON that several of this room's writers share. */
#ifndef DWI_FILES_JSON_STAGE_H
#define DWI_FILES_JSON_STAGE_H

#include <drawerwright/fault.h>
#include <drawerwright/purchase.h>

#include "json_write.h"

/* The case that a part's first piece belongs to, or the group that a part listed by hand stands under; "". */
const char *dwi_part_group(const struct dw_job *job, const struct dw_part *part);

/* {"grade", "code", "address", "wrong", "cure"} */
void dwi_json_fault(struct dwi_json *json, const struct dw_fault *fault);

/* "show": a length as a maker reads it, in the job's units. */
void dwi_json_show(struct dwi_json *json, const struct dw_job *job, dw_length length);

/* {"value", "show", "figuring"?}: a figure in the job's units, with every step or by itself; nothing for one that has no steps. */
void dwi_json_figure(struct dwi_json *json, const struct dw_job *job, const char *key, const struct dw_figure *figure, bool figuring);

/* One object a drawer of a sizing, into the open array; with every step of figuring, or only the figures. */
void dwi_json_drawers(struct dwi_json *json, const struct dw_sizing *sizing, bool figuring);

/* "purchase", "cost", "hardware" into the open object. */
void dwi_json_purchase_keys(struct dwi_json *json, const struct dw_purchase *purchase);

#endif
