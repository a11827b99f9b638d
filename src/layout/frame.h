/* frame.h - small things that the files of this room share: the two frames, ways to show things, the shop of the jobs. */
#ifndef DWI_LAYOUT_FRAME_H
#define DWI_LAYOUT_FRAME_H

#include <drawerwright/layout.h>

struct dw_text;

/* The shop that jobs planned together share, and one of their pieces. */
static inline const struct dw_job *first_job(const struct dw_parts *const *jobs)
{
    return jobs[0]->sizing->job;
}

static inline const struct dw_part *part_of(const struct dw_parts *const *jobs, struct dw_piece_ref ref)
{
    return &jobs[ref.job]->at[ref.part];
}

static inline const struct dw_piece *piece_of(const struct dw_parts *const *jobs, struct dw_piece_ref ref)
{
    return &part_of(jobs, ref)->pieces[ref.piece];
}

/* A length in the jobs' unit; one that is exact only in the other unit is shown in that, with its name. */
const char *dwi_layout_show(struct dw_arena *arena, const struct dw_parts *const *jobs, dw_length length);

/* A length in the jobs' unit, led by "~" where that is not exact: for what is not set on a fence. */
const char *dwi_layout_show_own(struct dw_arena *arena, const struct dw_parts *const *jobs, dw_length length);

/* "cases[0].banks[1].drawers[2]", or as much of it as the piece belongs to. */
const char *dwi_layout_address(struct dw_arena *arena, const struct dw_piece *piece);

/* "side A-3 of Bench/left/2". */
const char *dwi_layout_piece_words(struct dw_arena *arena, const struct dw_parts *const *jobs, struct dw_piece_ref ref);

/* A pair (along x, along y) seen in the other frame when `flip`. */
struct extent {
    dw_length x, y;
};

static inline struct extent in_frame(dw_length x, dw_length y, bool flip)
{
    return flip ? (struct extent){y, x} : (struct extent){x, y};
}

#endif
