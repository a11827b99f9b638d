/* nearest.h - what a misspelled word was probably meant to be. */
#ifndef DWI_NEAREST_H
#define DWI_NEAREST_H

#include <stddef.h>

struct dw_arena;

/* The word that takes fewest single-character changes from `wrong`; NULL when none is near (more than a third of its characters). */
const char *dwi_nearest(const char *wrong, const char *const *words, size_t count);

/* `did you mean "height"?` when one is near, else `one of: name, height, ...`. */
const char *dwi_suggest(struct dw_arena *arena, const char *wrong, const char *const *words, size_t count);

#endif
