/* work.c - the words for patience, and how much work each is. */
#include <drawerwright/work.h>

#include <string.h>

static const char *const words[] = {[DW_SHORT] = "short", [DW_COFFEE] = "coffee", [DW_LUNCH] = "lunch"};
static const int64_t units[] = {[DW_SHORT] = 1000000, [DW_COFFEE] = 5000000, [DW_LUNCH] = 30000000};

bool dw_patience_parse(const char *word, enum dw_patience *patience)
{
    for (int i = DW_SHORT; i <= DW_LUNCH; i++)
        if (strcmp(word, words[i]) == 0) {
            *patience = (enum dw_patience)i;
            return true;
        }
    return false;
}

const char *dw_patience_word(enum dw_patience patience)
{
    return words[patience];
}

int64_t dw_patience_units(enum dw_patience patience)
{
    return units[patience];
}
