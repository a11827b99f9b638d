/* chain.h - the plans that follow one another, as the ledger tells them, and the bench of each: what its marks leave in hand. */
#ifndef DWI_CHAIN_H
#define DWI_CHAIN_H

#include <drawerwright/progress.h>

struct dwi_link {
    int64_t number;              /* in the ledger */
    struct dw_work_plan plan;
    struct dw_marked *marks;     /* oldest first; the reversing ones are not among them */
    size_t mark_count, capacity;
};

struct dwi_chain {
    struct dwi_link *links;      /* oldest first; the last one is the plan asked for */
    size_t count;
    const char *replaced_by;     /* "" */
    bool posted;                 /* one of them */
    int64_t last;                /* number of the newest mark of any of them, reversing ones too; 0 */
};

/* Reads a plan and all that it follows. DW_IMPOSSIBLE when it is not entered. */
enum dw_status dwi_chain_read(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults, struct dwi_chain *chain);

/* One plan's panels after its marks. */
struct dwi_bench {
    const struct dw_work_plan *plan;
    size_t *maker, *cutter;      /* of each panel: the pass that makes it, the pass that cuts it; DW_NO_PANEL */
    bool *made;                  /* of each pass */
    bool *lost;                  /* of each panel: spoiled */
    dw_length (*trim)[4];        /* of each panel: its own, and what is damaged */
    const char **note;           /* of each panel: what was noted last; "" */
    dw_length *thickness;        /* of each panel: as its sheet was measured; DW_LENGTH_UNSET */
};

/* All below work in an arena, inside a guard. */
struct dwi_bench dwi_bench_of(const struct dwi_link *link, struct dw_arena *arena);

/* For each panel the number of the mark that made it, or made it of no use, whichever came last; 0 for none. */
const int64_t *dwi_bench_since(const struct dwi_link *link, struct dw_arena *arena);

/* Do all marks behind the one at `at` mean the same panels without it? */
bool dwi_bench_can_do_without(const struct dwi_link *link, size_t at, struct dw_arena *arena);

/* Notes something of a panel; of a sheet: of all that comes off it. */
void dwi_bench_note(const struct dwi_bench *bench, size_t panel, const char *note);

/* A panel by its name, as things stand; DW_NO_PANEL. */
size_t dwi_bench_find(const struct dwi_bench *bench, const char *name);

/* Does it lie on the bench: made, not cut, not spoiled? */
bool dwi_bench_has(const struct dwi_bench *bench, size_t panel);

bool dwi_bench_is_cut_up(const struct dwi_bench *bench, size_t panel);

/* Was it, or what it comes from, spoiled? */
bool dwi_bench_is_lost(const struct dwi_bench *bench, size_t panel);

/* The whole chain as its user sees it. */
struct dw_progress *dwi_progress_of(const struct dwi_chain *chain, struct dw_arena *arena);

#endif
