/* amounts_show.h - amounts written so that reading them gives the same amount to the unit. In `arena`, inside a guard. */
#ifndef DWI_AMOUNTS_SHOW_H
#define DWI_AMOUNTS_SHOW_H

#include <drawerwright/job.h>

/* "24 1/2" in inches where that is exact, "11.7" in millimeters; with its unit where that is not `bare`. */
const char *dwi_length_exact(struct dw_arena *arena, dw_length length, enum dw_unit bare);

const char *dwi_mass_exact(struct dw_arena *arena, dw_mass mass);          /* "45.359237 kg" */
const char *dwi_density_exact(struct dw_arena *arena, int64_t density);    /* "680 kg/m3" */
const char *dwi_percent_exact(struct dw_arena *arena, dw_ppm ppm);         /* "8.25 %" */

#endif
