/* glimpse.h - the best sheets found so far of each material, drawn while the search goes on.
 *
 * The worker's mutex guards what is put and told; drawing is done outside it, since it takes as long as it takes.
 */
#ifndef DWI_PAGE_GLIMPSE_H
#define DWI_PAGE_GLIMPSE_H

#include <drawerwright/purchase.h>
#include <drawerwright/text.h>

struct dwi_glimpses;

/* For the parts of one job, laid out with these options; what a finished plan of the same (`shown`; may be NULL) has already counts as found. In `arena`
 * (inside a guard); the drawings are freed by dwi_glimpses_free. NULL when there is nothing to lay out. */
struct dwi_glimpses *dwi_glimpses_new(const struct dw_parts *const *jobs, const struct dw_layout_options *options, const struct dw_purchase *shown,
                                      struct dw_arena *arena);
void dwi_glimpses_free(struct dwi_glimpses *glimpses);

/* The drawings of a plan that was found, when it costs less than what was known: an arena of its own with a list of them as JSON; NULL when it is no
 * better, cannot be sawn, or memory runs out. */
struct dwi_drawn {
    struct dw_arena *arena;
    const char *drawings;
    int64_t sheets;
};
struct dwi_drawn dwi_glimpses_draw(const struct dwi_glimpses *glimpses, const struct dw_standing *standing);

/* Notes where a material stands, and takes over what was drawn. */
void dwi_glimpses_put(struct dwi_glimpses *glimpses, const struct dw_standing *standing, struct dwi_drawn drawn);

/* Adds `, "sheets", "best", "lower_bound", "bound_holds"` of all materials together, as far as each has a plan, and `"materials": [...]` of those that
 * were drawn since `seen`; bound_holds is false where prices depend on numbers, so that first prices say nothing of the whole. In a guard. */
void dwi_glimpses_tell(const struct dwi_glimpses *glimpses, int64_t seen, struct dw_text *out);

#endif
