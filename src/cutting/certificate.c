/* certificate.c - few rows from which the bound follows.
 *
 * A proof gathers rows as it goes; the first ones are often outdone by later ones. One after the other is left out, oldest first, and
 * stays out when no counts below the bound obey the rest. What is left is a list that no row can leave (within the steps allowed to
 * each try), which a reader and the checker get through sooner.
 */
#include "prove.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { TRIAL_NODES = 5000 };

/* Does the bound follow from these rows? false also when that would take too long to tell. */
static bool follows(const struct proof *proof, struct bound_row *rows, size_t count, dw_money bound, struct dw_arena *scratch)
{
    struct proof trial = *proof;
    dw_money cost = 0;
    trial.arena = scratch;
    trial.rows = rows;
    trial.row_count = count;
    trial.most_nodes = TRIAL_NODES;
    int64_t *counts = dw_arena_alloc(scratch, (size_t)proof->problem->stock_count, sizeof *counts);
    return !dwi_proof_cheapest(&trial, bound, counts, &cost);
}

size_t dwi_proof_certificate(const struct proof *proof, dw_money bound, struct dw_arena *arena, const struct bound_row **rows)
{
    struct dw_arena *scratch = dw_arena_child(arena);
    struct bound_row *kept = dw_arena_copy(arena, proof->rows, proof->row_count, sizeof *kept);
    struct bound_row *fewer = dw_arena_alloc(scratch, proof->row_count, sizeof *fewer);
    size_t count = proof->row_count;
    for (size_t k = 0; k < count;) {
        memcpy(fewer, kept, k * sizeof *kept);
        memcpy(fewer + k, kept + k + 1, (count - k - 1) * sizeof *kept);
        if (follows(proof, fewer, count - 1, bound, scratch))
            memcpy(kept, fewer, --count * sizeof *kept);
        else
            k++;
    }
    dw_arena_free(scratch);
    *rows = kept;
    return count;
}
