/* marks.c - the mark of each piece, short enough for masking tape and readable in pencil.
 *
 *     A2-1.3L      case A, its second copy, bank 1, drawer 3 from the top, left side
 *
 * A letter for the case, in the order of the job; those that pencil confuses with a digit (I O Q S Z) and the one that leads listed parts (X)
 * are left out, and after Y come AA, AB, ... Then, only where the case is made more than once, the number of the copy; a dash; the bank from
 * the left, a point, the drawer from the top; and letters for the part:
 *
 *     F front   L R sides   BF box front   BK back   BT bottom   PL PR packing strips   RL rail beneath
 *
 * A member of the case itself has no bank and drawer: A-L, A-TP, A-SL ... (casework.c names them). A part listed by hand is X and its number in
 * the list, a point, the piece: X2.1. A spare is SP and a number. No two of these forms can be equal: case marks alone have a dash.
 */
#include "making.h"

#include <drawerwright/memory.h>

static const char LETTERS[] = "ABCDEFGHJKLMNPRTUVWY";
enum { LETTER_COUNT = sizeof LETTERS - 1 };

/* Like spreadsheet columns: A .. Y, AA .. YY, AAA .. */
static const char *letters_of(struct dw_arena *arena, size_t index)
{
    char text[16];
    size_t at = sizeof text - 1;
    text[at] = '\0';
    for (size_t rest = index + 1; rest > 0; rest = (rest - 1) / LETTER_COUNT)
        text[--at] = LETTERS[(rest - 1) % LETTER_COUNT];
    return dw_arena_string(arena, text + at);
}

const char *const *dwi_case_letters(const struct dwi_making *making)
{
    const char **letters = dw_arena_alloc(making->arena, making->sizing->case_count, sizeof *letters);
    for (size_t i = 0; i < making->sizing->case_count; i++)
        letters[i] = letters_of(making->arena, i);
    return letters;
}

const char *dwi_mark_case(const struct dwi_making *making, size_t case_index, size_t copy, const char *part)
{
    if (making->job->cases[case_index].count > 1)
        return dw_arena_format(making->arena, "%s%zu-%s", making->letters[case_index], copy + 1, part);
    return dw_arena_format(making->arena, "%s-%s", making->letters[case_index], part);
}

const char *dwi_mark_drawer(const struct dwi_making *making, size_t case_index, size_t copy, size_t bank, size_t drawer, const char *part)
{
    return dwi_mark_case(making, case_index, copy, dw_arena_format(making->arena, "%zu.%zu%s", bank + 1, drawer + 1, part));
}

const char *dwi_mark_extra(const struct dwi_making *making, size_t extra, size_t piece)
{
    return dw_arena_format(making->arena, "X%zu.%zu", extra + 1, piece + 1);
}

const char *dwi_mark_spare(const struct dwi_making *making, size_t spare)
{
    return dw_arena_format(making->arena, "SP%zu", spare + 1);
}
