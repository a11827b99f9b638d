/* ladder.h - the order of cuts for all sheets of one material. */
#ifndef DWI_LAYOUT_LADDER_H
#define DWI_LAYOUT_LADDER_H

#include <drawerwright/layout.h>

#include "saws.h"

struct dw_text;

/* Fills layout->ladder from its sheets. A cut that no saw can make is an error DW_IMPOSSIBLE that names the piece; then the ladder is not
 * whole. Inside a guard of `arena`. */
void dwi_ladder_make(const struct dw_parts *const *jobs, struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout);

/* What the ladder of these sheets would come to. */
struct ladder_count {
    bool whole;        /* every cut can be made */
    const char *stuck; /* else, the mark of an offcut that no saw can cut free, or NULL when it is a part */
    size_t settings, cuts;
};
struct ladder_count dwi_ladder_count(const struct dw_parts *const *jobs, struct dw_arena *arena, const struct dw_material_layout *layout);

/* ---- between schedule.c, which orders the cuts, and rungs.c, which says them ---- */

/* A rung with its cuts and without its words. */
struct raw_rung {
    enum dw_ladder_kind kind;
    struct way way;
    bool first;                 /* the panels are sheets as bought, or what is left of them */
    bool factory, rough;        /* an edge that is measured from, or trimmed, is still the factory's, or was cut roughly */
    struct dw_ladder_cut *cuts;
    size_t cut_count, cut_capacity;
};

struct schedule {
    struct raw_rung *rungs;
    size_t rung_count, rung_capacity;
    struct dw_panel *panels;
    size_t panel_count, panel_capacity;
    size_t settings;
    size_t cuts;
    bool whole;                 /* every cut could be made */
    const char *stuck;          /* mark of the first offcut that could not be cut free; NULL */
};

/* The ways to choose what is cut next. */
enum order_rule {
    ORDER_BY_PHASE, /* breakdown, rips, crosscuts; then settings that are complete, then the larger */
    ORDER_COMPLETE, /* settings of which nothing more is to come first, whatever the phase */
    ORDER_RULES
};

/* faults may be NULL: then nothing is said of a cut that cannot be made. */
struct schedule dwi_schedule(const struct dw_parts *const *jobs, const struct saws *saws, enum order_rule rule, struct dw_arena *arena,
                             struct dw_faults *faults, const struct dw_material_layout *layout);

/* The sheets as these cuts leave them: where a saw takes less than the kerf that was laid out for, what follows lies nearer, and what is left
 * over is larger. Adds up what is kept anew. */
void dwi_settle(const struct saws *saws, const struct schedule *schedule, struct dw_material_layout *layout);

/* The words of one rung, and the block of cautions for the material. */
struct dw_ladder_rung dwi_rung_say(const struct dw_parts *const *jobs, const struct saws *saws, const struct schedule *schedule,
                                   const struct raw_rung *raw, struct dw_arena *arena, const struct dw_material_layout *layout);
void dwi_ladder_cautions(const struct dw_parts *const *jobs, struct dw_arena *arena, struct dw_material_layout *layout);

#endif
