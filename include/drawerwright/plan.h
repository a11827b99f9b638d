/* plan.h - a plan as its file says it (docs/plan.md), for what happens to plans later: posting, comparing, looking up a piece. */
#ifndef DRAWERWRIGHT_PLAN_H
#define DRAWERWRIGHT_PLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/cutting.h>
#include <drawerwright/fault.h>
#include <drawerwright/job.h>
#include <drawerwright/length.h>
#include <drawerwright/money.h>

struct dw_arena;

/* Like pieces. */
struct dw_plan_part {
    const char *id, *job, *case_name, *drawer, *name, *material;
    dw_length thickness, length, width;
    dw_length finished_length, finished_width;
    enum dw_grain grain;
    const char *const *pieces; /* marks */
    size_t count;
};

struct dw_plan_source {
    const char *sheet;
    bool owned;                /* from the rack; its id there is rack_id */
    const char *rack_id;       /* "" when bought */
    dw_length length, width;
    bool grain_across;
    dw_length trim[4];
    dw_money price, value;
    int64_t count;             /* DW_NO_LIMIT */
    dw_money worth;            /* what one is reckoned at when it is used: as paid, breaks taken into account; an owned one: its value */
    int64_t spare;             /* bought beyond those cut, because so many cost less */
};

struct dw_plan_node {
    dw_length x, y, length, width; /* on the sheet as bought */
    enum dw_node_use use;
    enum dw_cut cut;               /* DW_NODE_CUT */
    const struct dw_plan_node *pieces;
    size_t piece_count;
    size_t part;                   /* DW_NODE_PART: index into the plan's parts; else DW_NO_INDEX */
    const char *mark;              /* of the piece or the offcut kept; else "" */
    bool turned;
};

struct dw_plan_sheet {
    size_t source;                 /* index into the material's sources */
    const char *name;
    struct dw_plan_node root;
};

/* What is handled at the saw; the first ones are the sheets, in their order. */
struct dw_plan_panel {
    const char *name;              /* "S1", "S1-b", the mark of a piece or offcut; "" for waste */
    size_t sheet;                  /* index into the material's sheets */
    dw_length length, width;
    enum dw_node_use use;
};

/* One pass of the saw; the passes stand in the order of work. */
struct dw_plan_pass {
    int64_t step;                  /* rung of the ladder, from 1 */
    size_t panel, off, rest;       /* indices into the material's panels; DW_NO_INDEX where the blade takes all */
    enum dw_cut cut;
    bool high;                     /* `off` is the high side */
    dw_length over;                /* of a rough cut: over-size at the edges that it makes; else 0 */
};

struct dw_plan_material {
    const char *material;
    dw_length kerf;
    dw_money cost, lower_bound;
    bool proved;
    const struct dw_plan_source *sources;
    size_t source_count;
    const struct dw_plan_sheet *sheets;
    size_t sheet_count;
    const struct dw_plan_panel *panels; /* none in a file written before ladders were */
    size_t panel_count;
    const struct dw_plan_pass *passes;
    size_t pass_count;
};

/* A warning that was printed with the plan. */
struct dw_plan_warning {
    const char *code, *address, *wrong;
};

struct dw_plan {
    const char *plan_id, *program;
    const char *follows;           /* the plan that this one replaces; "" */
    int64_t seen;                  /* how far that one's history was known when this one was made */
    const char *const *jobs;
    size_t job_count;
    const struct dw_plan_part *parts;
    size_t part_count;
    const struct dw_plan_part *later; /* parts that this plan leaves for later, with their sizes; none in a file that tells none */
    size_t later_count;
    const struct dw_given *given;  /* sizes that gave, in this plan and those before; likewise */
    size_t given_count;
    const struct dw_goods *goods;  /* what is bought beside sheets; `bought`: with this plan and those before. Likewise */
    size_t goods_count;
    const struct dw_plan_material *materials;
    size_t material_count;
    const struct dw_plan_warning *warnings; /* none in a file that tells none */
    size_t warning_count;
    dw_money total, lower_bound;
    bool proved;
};

/* Reads a plan file of format 1. Keys that it does not need it leaves alone; whatever is missing, of the wrong type or names something
 * that is not there is reported, all at once. *plan is NULL unless DW_DONE is returned. */
enum dw_status dw_plan_read_file(const char *path, struct dw_arena *arena, struct dw_faults *faults, const struct dw_plan **plan);
enum dw_status dw_plan_read_text(const char *bytes, size_t length, struct dw_arena *arena, struct dw_faults *faults,
                                 const struct dw_plan **plan);

#endif
