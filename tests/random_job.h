/* random_job.h - job files thrown at random: cases of both styles, banks and stacks, every fit, both units, names of every length and script. Invented
 * data: it finds faults, it proves nothing. */
#ifndef DW_TESTS_RANDOM_JOB_H
#define DW_TESTS_RANDOM_JOB_H

#include <drawerwright/text.h>

#include "dice.h"

static inline const char *pick(struct dice *dice, const char *const *words, int64_t count)
{
    return words[dice_range(dice, 0, count - 1)];
}

/* A length of so many eighths of an inch, or of so many times 3 mm. */
static inline void add_length(struct dw_text *text, bool metric, int64_t eighths)
{
    if (metric)
        dw_text_addf(text, "\"%lld\"", (long long)(eighths * 3));
    else
        dw_text_addf(text, "\"%lld %lld/8\"", (long long)(eighths / 8), (long long)(eighths % 8));
}

static inline void random_shop(struct dw_text *text, struct dice *dice, bool metric)
{
    static const char *const plies[] = {"birch plywood", "érable, deux faces à peindre, qualité du menuisier", "берёза",
                                        "ξύλο", "1/2 ply <good> & \\\"dear\\\""};
    const char *length = metric ? "2440" : "96";
    const char *width = metric ? "1220" : "48";
    dw_text_add(text, "\"shop\": {\"name\": \"random\", \"materials\": [");
    static const struct {
        const char *id, *inch, *metric;
    } sheets[] = {{"thick", "23/32", "18"}, {"half", "15/32", "12"}, {"thin", "7/32", "6"}};
    for (size_t i = 0; i < 3; i++)
        dw_text_addf(text, "{\"id\": \"%s\", \"name\": \"%s\", \"thickness\": \"%s\", \"sheets\": [{\"id\": \"full\", \"length\": \"%s\", \"width\": \"%s\", \"price\": \"%lld.00\"}]},",
                     sheets[i].id, pick(dice, plies, 5), metric ? sheets[i].metric : sheets[i].inch, length, width, (long long)dice_range(dice, 20, 200));
    text->length--; /* the last comma */
    dw_text_add(text, "], \"slides\": [{\"id\": \"side\", \"name\": \"side-mount slide\", \"lengths\": [");
    for (int i = 10; i <= 28; i += 2)
        dw_text_addf(text, "%s\"%d%s\"", i == 10 ? "" : ", ", metric ? i * 25 : i, "");
    dw_text_add(text, "]}]}");
}

/* So many that each front stands 4 to 12 in high in a case of `high` eighths. */
static inline void random_drawers(struct dw_text *text, struct dice *dice, bool metric, int64_t high)
{
    static const char *const names[] = {"1", "top", "tracings and large drawings of the east wing", "Schubfächer", "верх", "x"};
    const int64_t clear = high - 50;
    const int64_t count = dice_range(dice, clear / 110 + 1, clear / 44 + 1);
    dw_text_add(text, "\"drawers\": [");
    for (int64_t i = 0; i < count; i++) {
        dw_text_addf(text, "%s{", i == 0 ? "" : ", ");
        if (dice_one_in(dice, 4))
            dw_text_addf(text, "\"name\": \"%lld %s\", ", (long long)i, pick(dice, names, 6));
        if (i > 0 && dice_one_in(dice, 3)) {
            dw_text_add(text, "\"height\": ");
            add_length(text, metric, clear / count - dice_range(dice, 0, 8));
            dw_text_add(text, ", ");
        }
        dw_text_add(text, "\"holds\": \"\"}");
    }
    dw_text_add(text, "]");
}

static inline void random_bank(struct dw_text *text, struct dice *dice, bool metric, int64_t high, int64_t index)
{
    dw_text_addf(text, "%s{\"name\": \"%c\", ", index == 0 ? "" : ", ", (char)('A' + index));
    if (dice_one_in(dice, 3)) {
        dw_text_add(text, "\"rail\": ");
        add_length(text, metric, dice_range(dice, 4, 8));
        dw_text_add(text, ", ");
    }
    random_drawers(text, dice, metric, high);
    dw_text_add(text, "}");
}

static inline void random_case(struct dw_text *text, struct dice *dice, bool metric, int64_t index)
{
    static const char *const fits[] = {"inset", "full overlay"};
    static const char *const joints[] = {"butt", "rabbet", "dado", "rabbet-and-dado", "lock rabbet", "finger", "half-blind dovetail", "through dovetail", "miter"};
    static const char *const bottoms[] = {"grooved", "slid in", "applied"};
    static const char *const names[] = {"Chest", "Kästchen für die Kammer hinter der großen Treppe im alten Haus", "B", "Комод"};
    const int64_t banks = dice_range(dice, 1, dice_one_in(dice, 5) ? 6 : 3);
    const int64_t high = dice_range(dice, 140, 560);
    const bool framed = dice_one_in(dice, 2);
    dw_text_addf(text, "%s{\"name\": \"%s %lld\", \"style\": \"%s\", \"outside\": {\"width\": ", index == 0 ? "" : ", ", pick(dice, names, 4), (long long)index,
                 framed ? "face frame" : "frameless");
    add_length(text, metric, banks * dice_range(dice, 110, 240));
    dw_text_add(text, ", \"height\": ");
    add_length(text, metric, high);
    dw_text_add(text, ", \"depth\": ");
    add_length(text, metric, dice_range(dice, 130, 250));
    dw_text_addf(text, "}, \"members\": {\"side\": \"%s\", \"top\": \"%s\", \"bottom\": \"%s\", \"back\": \"%s\"", metric ? "18" : "23/32",
                 metric ? "18" : "23/32", metric ? "18" : "23/32", metric ? "6" : "7/32");
    if (framed)
        dw_text_addf(text, ", \"stile\": \"%s\", \"rail_top\": \"%s\", \"rail_bottom\": \"%s\", \"frame_thickness\": \"%s\"", metric ? "40" : "1 1/2",
                     metric ? "50" : "2", metric ? "40" : "1 1/2", metric ? "18" : "23/32");
    dw_text_addf(text, "}, \"fit\": \"%s\", \"slide\": \"side\", \"partition\": \"%s\", \"front\": {\"material\": \"thick\"}, ", pick(dice, fits, 2),
                 metric ? "40" : "1 1/2");
    dw_text_addf(text, "\"box\": {\"sides\": \"half\", \"front\": \"half\", \"back\": \"half\", \"bottom\": \"thin\", \"joint\": \"%s\", \"bottom_style\": \"%s\"}, \"banks\": [",
                 pick(dice, joints, 9), pick(dice, bottoms, 3));
    for (int64_t b = 0; b < banks; b++)
        random_bank(text, dice, metric, high, b);
    dw_text_add(text, "]}");
}

/* A job file; `seed` throws the dice. Inside a guard of the text's arena. */
static inline void random_job(struct dw_text *text, uint64_t seed)
{
    struct dice dice = {seed};
    const bool metric = dice_one_in(&dice, 3);
    const int64_t cases = dice_range(&dice, 1, 2);
    dw_text_addf(text, "{\"format\": 1, \"name\": \"Random job %llu\", \"units\": \"%s\", ", (unsigned long long)seed, metric ? "mm" : "in");
    random_shop(text, &dice, metric);
    dw_text_add(text, ", \"cases\": [");
    for (int64_t c = 0; c < cases; c++)
        random_case(text, &dice, metric, c);
    dw_text_add(text, "]}");
}

#endif
