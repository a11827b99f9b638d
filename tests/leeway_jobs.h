/* leeway_jobs.h - jobs for trials of leeway: small ones whose every setting can be tried, and kitchens and chests of 8 to 40 drawers such as a small
 * shop builds. Invented data: the small ones are held against trying everything, the large ones show how often leeway pays. */
#ifndef DW_TESTS_LEEWAY_JOBS_H
#define DW_TESTS_LEEWAY_JOBS_H

#include <drawerwright/text.h>

#include "dice.h"

/* Sheets of 4 x 8 ft and half of that, at prices of our own; fronts of a material that is never short. */
#define LEEWAY_SHOP \
    "\"shop\": {\"name\": \"test\", \"habits\": {\"leeway\": {%s}}, \"materials\": [" \
    "{\"id\": \"ply 3/4\", \"thickness\": \"3/4\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"92.00\"}," \
    " {\"id\": \"half\", \"length\": 48, \"width\": 48, \"price\": \"52.00\"}]}," \
    "{\"id\": \"ply 1/2\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"68.00\"}," \
    " {\"id\": \"half\", \"length\": 48, \"width\": 48, \"price\": \"39.00\"}]}," \
    "{\"id\": \"ply 1/4\", \"thickness\": \"1/4\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"41.00\"}," \
    " {\"id\": \"half\", \"length\": 48, \"width\": 48, \"price\": \"23.50\"}]}]," \
    "\"slides\": [{\"id\": \"side\", \"lengths\": [%s]}]}"

/* Slides that all cost the same, and such of which every second length is dear. */
#define LEEWAY_LENGTHS "10, 12, 14, 16, 18, 20, 22, 24, 26, 28"
#define LEEWAY_DEAR_LENGTHS \
    "{\"length\": 10, \"price\": \"9.00\"}, {\"length\": 12, \"price\": \"12.50\"}, {\"length\": 14, \"price\": \"10.00\"}, {\"length\": 16, \"price\": \"13.50\"}, " \
    "{\"length\": 18, \"price\": \"11.00\"}, {\"length\": 20, \"price\": \"14.50\"}, {\"length\": 22, \"price\": \"12.00\"}, {\"length\": 24, \"price\": \"15.50\"}"

/* A job of `drawers` drawers or a few more: cases like those of a kitchen, banks of 3 to 5 drawers. */
static inline void leeway_realistic(struct dw_text *text, struct dice *dice, int64_t drawers, const char *leeway, const char *lengths)
{
    int64_t left = drawers;
    dw_text_add(text, "{\"format\": 1, \"name\": \"kitchen\", \"units\": \"in\", ");
    dw_text_addf(text, LEEWAY_SHOP, leeway, lengths);
    dw_text_add(text, ", \"cases\": [");
    for (int64_t c = 0; left > 0; c++) {
        const int64_t banks = left > 6 ? dice_range(dice, 1, 3) : 1;
        const int64_t depth = dice_range(dice, 0, 3) * 2 + 18;
        dw_text_addf(text, "%s{\"name\": \"%c\", \"outside\": {\"width\": \"%lld\", \"height\": \"%lld 1/2\", \"depth\": \"%lld\"}, \"members\": {\"kick\": \"4\"},"
                           " \"fit\": \"full overlay\", \"box\": {\"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\"}, \"front\": {\"material\": \"ply 3/4\"}, \"banks\": [",
                     c == 0 ? "" : ", ", (char)('A' + c), (long long)(banks * dice_range(dice, 12, 30) + 2), (long long)dice_range(dice, 30, 40), (long long)depth);
        for (int64_t b = 0; b < banks; b++) {
            const int64_t count = dice_range(dice, 3, 5);
            dw_text_addf(text, "%s{\"drawers\": [{\"height\": \"%lld 3/4\"}", b == 0 ? "" : ", ", (long long)dice_range(dice, 4, 6));
            for (int64_t d = 1; d < count; d++)
                dw_text_add(text, ", {}");
            dw_text_add(text, "]}");
            left -= count;
        }
        dw_text_add(text, "]}");
    }
    dw_text_add(text, "]}");
}

/* One such job of 8 to 40 drawers as JSON. A body for a guard of the arena. */
struct leeway_writing {
    struct dice *dice;
    struct dw_arena *arena;
    const char *leeway;  /* the shop's habits of leeway, keys and values */
    const char *lengths; /* of slides */
    const char *json;
};

static inline void leeway_write_realistic(void *context)
{
    struct leeway_writing *writing = context;
    struct dw_text text = dw_text_in(writing->arena);
    leeway_realistic(&text, writing->dice, dice_range(writing->dice, 8, 36), writing->leeway, writing->lengths);
    writing->json = text.bytes;
}

/* A bank of a few drawers whose sides are all that is cut from a sheet that they nearly fill. `told` are box heights in sixteenths of an inch, or
 * NULL: then each box may be 1/4 in lower, in steps of 1/16 in, by itself. */
static inline void leeway_small(struct dw_text *text, struct dice dice, const int64_t *told)
{
    const int64_t count = dice_range(&dice, 2, 3);
    const int64_t length = dice_range(&dice, 15, 32);
    const int64_t width = dice_range(&dice, 150, 300);
    dw_text_addf(text,
                 "{\"format\": 1, \"name\": \"small\", \"units\": \"in\", \"shop\": {\"name\": \"test\", \"habits\": {\"trim\": 0}, \"materials\": ["
                 "{\"id\": \"side\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"short\", \"length\": \"%lld\", \"width\": \"%lld 1/8\", \"price\": \"20.00\"}]},"
                 "{\"id\": \"rest\", \"thickness\": \"1/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 96, \"price\": \"9.00\"}]},"
                 "{\"id\": \"front\", \"thickness\": \"3/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 96, \"price\": \"9.00\"}]}],"
                 "\"slides\": [{\"id\": \"side\", \"lengths\": [12, 14]}]},",
                 (long long)length, (long long)(width / 8));
    dw_text_add(text, "\"cases\": [{\"name\": \"A\", \"opening\": {\"width\": \"18\", \"height\": \"22\", \"depth\": \"15\"}, \"fit\": \"overlay\", \"slide\": \"side\","
                      "\"box\": {\"sides\": \"side\", \"front\": \"front\", \"back\": \"front\", \"bottom\": \"rest\", \"joint\": \"butt\", \"groove_depth\": \"1/8\"");
    if (told == NULL)
        dw_text_add(text, ", \"leeway\": {\"lower\": \"1/4\", \"step\": \"1/16\", \"alike\": \"drawer\"}");
    dw_text_add(text, "}, \"front\": {\"material\": \"front\"}, \"banks\": [{\"drawers\": [");
    for (int64_t d = 0; d < count; d++) {
        dw_text_addf(text, "%s{", d == 0 ? "" : ", ");
        if (d + 1 < count) { /* one after the other: in which order a call's arguments are reckoned is the compiler's affair */
            const int64_t sixteenths = dice_range(&dice, 1, 15);
            const int64_t inches = dice_range(&dice, 4, 7);
            dw_text_addf(text, "\"height\": \"%lld %lld/16\"", (long long)inches, (long long)sixteenths);
        }
        if (told != NULL)
            dw_text_addf(text, "%s\"box\": {\"height\": \"%lld/16\"}", d + 1 < count ? ", " : "", (long long)told[d]);
        dw_text_add(text, "}");
    }
    dw_text_add(text, "]}]}]}");
}

#endif
