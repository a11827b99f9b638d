/* nearest.c - single-character changes between words, by the usual table of Wagner and Fischer ("The String-to-String Correction
 * Problem", Journal of the ACM 21, 1974), one row at a time. */
#include "nearest.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum { LONGEST = 64, LISTED_MOST = 24 };

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Both at most LONGEST bytes. */
static size_t changes_between(const char *a, const char *b)
{
    size_t row[LONGEST + 1];
    const size_t width = strlen(b);
    for (size_t j = 0; j <= width; j++)
        row[j] = j;
    for (size_t i = 1; a[i - 1] != '\0'; i++) {
        size_t diagonal = row[0];
        row[0] = i;
        for (size_t j = 1; j <= width; j++) {
            const size_t replaced = diagonal + (lower(a[i - 1]) != lower(b[j - 1]) ? 1 : 0);
            const size_t shorter = (row[j] < row[j - 1] ? row[j] : row[j - 1]) + 1;
            diagonal = row[j];
            row[j] = replaced < shorter ? replaced : shorter;
        }
    }
    return row[width];
}

const char *dwi_nearest(const char *wrong, const char *const *words, size_t count)
{
    const char *nearest = NULL;
    const size_t length = strlen(wrong);
    size_t least = length / 3 + 1; /* fewer changes than this */
    if (length > LONGEST)
        return NULL;
    for (size_t i = 0; i < count; i++) {
        if (strlen(words[i]) > LONGEST)
            continue;
        const size_t changes = changes_between(wrong, words[i]);
        if (changes < least) {
            least = changes;
            nearest = words[i];
        }
    }
    return nearest;
}

const char *dwi_suggest(struct dw_arena *arena, const char *wrong, const char *const *words, size_t count)
{
    const char *nearest = dwi_nearest(wrong, words, count);
    if (nearest != NULL)
        return dw_arena_format(arena, "did you mean \"%s\"?", nearest);
    if (count == 0)
        return "";
    struct dw_text text = dw_text_in(arena);
    dw_text_add(&text, "one of: ");
    for (size_t i = 0; i < count && i < LISTED_MOST; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : ", ", words[i]);
    if (count > LISTED_MOST)
        dw_text_add(&text, ", ...");
    return text.bytes;
}
