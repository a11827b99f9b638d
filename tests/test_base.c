/* test_base.c - the base room: arenas under failing memory, lengths, money, text, addresses, faults. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/fault.h>
#include <drawerwright/length.h>
#include <drawerwright/memory.h>
#include <drawerwright/money.h>
#include <drawerwright/text.h>
#include <drawerwright/work.h>

/* Runs what allocates under a guard of its own; the test fails when memory does. */
static void guarded(void (*body)(void *arena))
{
    struct dw_arena *arena = dw_arena_new();
    assert_non_null(arena);
    assert_true(dw_arena_guard(arena, body, arena));
    dw_arena_free(arena);
}

/* ---- memory ----------------------------------------------------------------------------------------------- */

static void allocate_much(void *context)
{
    struct dw_arena *arena = context;
    struct dw_arena *child = dw_arena_child(arena);
    for (int i = 0; i < 1000; i++)
        (void)dw_arena_alloc(child, 100, 16);
}

static void test_guard_survives_every_failure(void **state)
{
    (void)state;
    struct dw_arena *arena = dw_arena_new();
    size_t n = 1;
    for (dw_memory_fail_at(n); !dw_arena_guard(arena, allocate_much, arena); dw_memory_fail_at(++n))
        continue;
    dw_memory_fail_at(0);
    assert_true(n > 3);
    dw_arena_free(arena);
}

static void inner_body(void *context)
{
    (void)dw_arena_alloc(context, SIZE_MAX / 2, 8);
}

static void outer_body(void *context)
{
    struct dw_arena *child = dw_arena_child(context);
    assert_false(dw_arena_guard(child, inner_body, child)); /* an absurd size runs out in the inner guard only */
    assert_non_null(dw_arena_alloc(child, 4, 4));
    dw_arena_free(child);
}

static void test_guards_nest(void **state)
{
    (void)state;
    guarded(outer_body);
}

static void grow_body(void *context)
{
    int *numbers = NULL;
    size_t capacity = 0;
    for (int i = 0; i < 1000; i++) {
        numbers = dw_arena_grow(context, numbers, (size_t)i, &capacity, sizeof *numbers);
        numbers[i] = i;
    }
    for (int i = 0; i < 1000; i++)
        assert_int_equal(numbers[i], i);
    assert_string_equal(dw_arena_format(context, "%d-%s", 7, "a"), "7-a");
    assert_string_equal(dw_arena_slice(context, "abcdef", 3), "abc");
}

static void test_arrays_grow_and_strings_copy(void **state)
{
    (void)state;
    guarded(grow_body);
}

/* ---- lengths ---------------------------------------------------------------------------------------------- */

struct good_length {
    const char *text;
    enum dw_unit bare;
    dw_length wanted;
};

/* Forms that makers write; what they mean is arithmetic. */
static const struct good_length good_lengths[] = {
    {"24", DW_IN, 24 * DW_INCH},
    {"24", DW_MILLIMETER, 24 * DW_MM},
    {"24 1/2", DW_IN, 49 * DW_INCH / 2},
    {"24-1/2\"", DW_IN, 49 * DW_INCH / 2},
    {"24-1/2", DW_MILLIMETER, 49 * DW_MM / 2},
    {" 24  1/2 in ", DW_MILLIMETER, 49 * DW_INCH / 2},
    {"1/2", DW_IN, DW_INCH / 2},
    {"9/8", DW_IN, 9 * DW_INCH / 8},
    {"1/128", DW_IN, DW_INCH / 128},
    {"24.5in", DW_MILLIMETER, 49 * DW_INCH / 2},
    {"24.5", DW_IN, 49 * DW_INCH / 2},
    {"24,5", DW_IN, 49 * DW_INCH / 2},
    {".5", DW_IN, DW_INCH / 2},
    {"0.095", DW_IN, 38608}, /* a measured kerf: 0.095 x 406 400 */
    {"2' 0-1/2\"", DW_IN, 49 * DW_INCH / 2},
    {"2'0 1/2\"", DW_IN, 49 * DW_INCH / 2},
    {"2' 1/2\"", DW_IN, 49 * DW_INCH / 2},
    {"2'-6\"", DW_IN, 30 * DW_INCH},
    {"5' 6", DW_IN, 66 * DW_INCH},
    {"5'", DW_IN, 60 * DW_INCH},
    {"2 ft 6 in", DW_MILLIMETER, 30 * DW_INCH},
    {"2.5 ft", DW_MILLIMETER, 30 * DW_INCH},
    {"622 mm", DW_IN, 622 * DW_MM},
    {"622mm", DW_IN, 622 * DW_MM},
    {"62.2cm", DW_IN, 622 * DW_MM},
    {"0.622 m", DW_IN, 622 * DW_MM},
    {"15,5 mm", DW_IN, 31 * DW_MM / 2},
    {"0.79375 mm", DW_IN, DW_INCH / 32},
    {"24 IN", DW_MILLIMETER, 24 * DW_INCH},
    {"24 inches", DW_MILLIMETER, 24 * DW_INCH},
    {"1 inch", DW_MILLIMETER, DW_INCH},
    {"1 in.", DW_MILLIMETER, DW_INCH},
    {"24''", DW_MILLIMETER, 24 * DW_INCH},
    {"-3/4", DW_IN, -3 * DW_INCH / 4},
    {"0", DW_IN, 0},
    {"24\xC2\xBD", DW_IN, 49 * DW_INCH / 2},                          /* 24 and a half sign */
    {"24 \xC2\xBD\xE2\x80\xB3", DW_MILLIMETER, 49 * DW_INCH / 2},      /* with a double prime */
    {"\xC2\xBC", DW_IN, DW_INCH / 4},
    {"\xC2\xBE\"", DW_IN, 3 * DW_INCH / 4},
    {"\xE2\x85\x9B", DW_IN, DW_INCH / 8},
    {"1\xE2\x85\x9C", DW_IN, 11 * DW_INCH / 8},
    {"\xE2\x85\x9D", DW_IN, 5 * DW_INCH / 8},
    {"\xE2\x85\x9E", DW_IN, 7 * DW_INCH / 8},
    {"1\xE2\x81\x84" "16", DW_IN, DW_INCH / 16},                       /* fraction slash */
    {"2\xE2\x80\xB2 6\xE2\x80\xB3", DW_IN, 30 * DW_INCH},              /* primes */
    {"2\xE2\x80\x99 6\xE2\x80\x9D", DW_IN, 30 * DW_INCH},              /* curly quotes */
    {"24\xE2\x80\x93" "1/2", DW_IN, 49 * DW_INCH / 2},                 /* en dash */
    {"622\xC2\xA0mm", DW_IN, 622 * DW_MM},                             /* space that does not break */
};

static void test_lengths_are_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof good_lengths / sizeof *good_lengths; i++) {
        dw_length length = DW_LENGTH_UNSET;
        const char *why = NULL;
        const bool read = dw_length_parse(good_lengths[i].text, good_lengths[i].bare, &length, &why);
        if (!read || length != good_lengths[i].wanted)
            print_error("\"%s\": got %lld, wanted %lld (%s)\n", good_lengths[i].text, (long long)length, (long long)good_lengths[i].wanted, why);
        assert_true(read);
        assert_true(length == good_lengths[i].wanted);
    }
}

static const char *const bad_lengths[] = {
    "", " ", "\"", "in", "mm", "abc", "1/0", "24 1/0", "0/0", "24 1/2 1/4", "24 1/2 3", "1e9", "1e3", "1000000000", "99999 m", "0x10", "24 5/4",
    "24 4/4", "1/256", "1/3", "24 1/3", "0.3333", "0.001 in", "1/", "/2", "1//2", "1/2/4", "24.", ".", ",", "24.5.5", "24..5", "24 . 5", "1.5/2",
    "1,500 mm", "1,500", "12,345 in", "+5", "--5", "- 3", "5-", "24 - 1/2", "24 in in", "24 mm in", "622 km", "5' 6'", "5' 6 mm", "5' 6 7", "5 6",
    "24\"1/2", "1/2 1", "1 / 2", "\xC2\xBD\xC2\xBD", "24 \xC2\xBD \xC2\xBC", "\xE2\x85\x93", "24\xFF", "\xC2", "\xEF\xBC\x92", "NaN", "inf",
    "24 1/2 in 3", "1\n", "24\t1/2\v",
    "0000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000001",
    "1 0000000000000000000000000000000000000000000000000000000000000000001/2", "4001 in 1", "400100 in", "333' 5\"", "333' 4 1/128\"",
};

static void test_what_is_no_length_is_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof bad_lengths / sizeof *bad_lengths; i++) {
        dw_length length = 7;
        const char *why = NULL;
        if (dw_length_parse(bad_lengths[i], DW_IN, &length, &why))
            fail_msg("\"%s\" was read as %lld", bad_lengths[i], (long long)length);
        assert_true(length == 7);
        assert_true(strncmp(why, "expected", 8) == 0);
    }
    assert_false(dw_length_parse("1/0", DW_IN, &(dw_length){0}, NULL)); /* why may be NULL */
}

static void sixty_fourths_body(void *context)
{
    const struct dw_length_style style = {.unit = DW_IN, .denominator = 64};
    struct dw_arena *child = dw_arena_child(context);
    for (dw_length n = 0; n <= 144 * 64; n++) {
        const dw_length wanted = n * (DW_INCH / 64);
        dw_length length = 0;
        const char *shown = dw_length_show(child, wanted, style);
        assert_true(dw_length_parse(shown, DW_IN, &length, NULL) && length == wanted);
        assert_true(dw_length_parse(dw_length_show_unit(child, wanted, style), DW_MILLIMETER, &length, NULL) && length == wanted);
        assert_null(strchr(shown, '~'));
        dw_arena_clear(child);
    }
}

/* Every 1/64 in from 0 to 144 in, written and read again. */
static void test_every_sixty_fourth_goes_round(void **state)
{
    (void)state;
    guarded(sixty_fourths_body);
}

/* 1 in = 25.4 mm exactly since 1 July 1959 (NIST Handbook 44, Appendix C); the thirty-seconds of an inch in millimeters follow. */
static const struct {
    const char *inch, *millimeters;
} conversions[] = {
    {"1/32", "0.79375"},  {"9/32", "7.14375"},   {"17/32", "13.49375"}, {"25/32", "19.84375"}, {"1/16", "1.5875"},    {"5/16", "7.9375"},
    {"9/16", "14.2875"},  {"13/16", "20.6375"},  {"3/32", "2.38125"},   {"11/32", "8.73125"},  {"19/32", "15.08125"}, {"27/32", "21.43125"},
    {"1/8", "3.175"},     {"3/8", "9.525"},      {"5/8", "15.875"},     {"7/8", "22.225"},     {"5/32", "3.96875"},   {"13/32", "10.31875"},
    {"21/32", "16.66875"}, {"29/32", "23.01875"}, {"3/16", "4.7625"},   {"7/16", "11.1125"},   {"11/16", "17.4625"},  {"15/16", "23.8125"},
    {"7/32", "5.55625"},  {"15/32", "11.90625"}, {"23/32", "18.25625"}, {"31/32", "24.60625"}, {"1/4", "6.35"},       {"1/2", "12.7"},
    {"3/4", "19.05"},     {"1", "25.4"},         {"48", "1219.2"},      {"96", "2438.4"},      {"60", "1524"},        {"49", "1244.6"},
    {"97", "2463.8"},
};

static void test_inches_are_millimeters(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof conversions / sizeof *conversions; i++) {
        dw_length inch = 1;
        dw_length metric = 2;
        assert_true(dw_length_parse(conversions[i].inch, DW_IN, &inch, NULL));
        assert_true(dw_length_parse(conversions[i].millimeters, DW_MILLIMETER, &metric, NULL));
        assert_true(inch == metric);
    }
}

static void show_body(void *context)
{
    static const struct {
        dw_length length;
        struct dw_length_style style;
        const char *wanted;
    } rows[] = {
        {49 * DW_INCH / 2, {.unit = DW_IN}, "24 1/2"},
        {DW_INCH / 2, {.unit = DW_IN}, "1/2"},
        {0, {.unit = DW_IN}, "0"},
        {-3 * DW_INCH / 4, {.unit = DW_IN}, "-3/4"},
        {622 * DW_MM, {.unit = DW_IN, .denominator = 16}, "~24 1/2"}, /* 24.488 in */
        {622 * DW_MM, {.unit = DW_MILLIMETER, .decimals = -1}, "622"},
        {31 * DW_MM / 2, {.unit = DW_MILLIMETER, .decimals = -1}, "15.5"},
        {DW_INCH / 32, {.unit = DW_MILLIMETER, .decimals = -1}, "~0.79"},
        {DW_INCH / 32, {.unit = DW_MILLIMETER, .decimals = 3}, "~0.794"},
        {DW_INCH, {.unit = DW_MILLIMETER, .decimals = 3}, "25.400"},
        {DW_INCH / 128, {.unit = DW_IN}, "~1/64"}, /* halves go away from zero */
        {-DW_INCH / 128, {.unit = DW_IN}, "~-1/64"},
        {DW_INCH / 128, {.unit = DW_IN, .denominator = 128}, "1/128"},
        {127 * DW_INCH / 128, {.unit = DW_IN}, "~1"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *shown = dw_length_show(context, rows[i].length, rows[i].style);
        assert_string_equal(shown, rows[i].wanted);
        assert_int_equal(dw_length_is_exact(rows[i].length, rows[i].style), shown[0] != '~');
    }
    assert_string_equal(dw_length_show_unit(context, DW_INCH, (struct dw_length_style){.unit = DW_MILLIMETER, .decimals = 1}), "25.4 mm");
}

static void test_lengths_are_shown(void **state)
{
    (void)state;
    guarded(show_body);
}

static void test_rounding_at_the_ties(void **state)
{
    (void)state;
    assert_int_equal(dw_round_down(7, 4), 4);
    assert_int_equal(dw_round_down(8, 4), 8);
    assert_int_equal(dw_round_down(-1, 4), -4);
    assert_int_equal(dw_round_up(5, 4), 8);
    assert_int_equal(dw_round_up(-5, 4), -4);
    assert_int_equal(dw_round_near(5, 4), 4);
    assert_int_equal(dw_round_near(6, 4), 8);
    assert_int_equal(dw_round_near(-6, 4), -8);
    assert_int_equal(dw_round_near(4, 3), 3);
    assert_int_equal(dw_round_near(5, 3), 6);
}

static void test_lengths_are_shared_by_whole_units(void **state)
{
    (void)state;
    for (dw_length whole = 0; whole < 50; whole++)
        for (int count = 1; count < 9; count++) {
            dw_length shares[9];
            dw_length sum = 0;
            dw_length_share(whole, count, shares);
            for (int i = 0; i < count; i++) {
                sum += shares[i];
                assert_true(i == 0 || (shares[i] >= shares[i - 1] && shares[i] <= shares[0] + 1));
            }
            assert_true(sum == whole);
        }
}

/* ---- money ------------------------------------------------------------------------------------------------ */

static void test_money_is_read(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int decimals;
        dw_money wanted; /* -1: refused */
    } rows[] = {
        {"68", 2, 6800},          {"68.00", 2, 6800},      {"68.5", 2, 6850},     {"12,5", 2, 1250},        {"1,234.50", 2, 123450},
        {"1,234", 2, 123400},     {"1,234,567", 2, 123456700}, {"0.01", 2, 1},    {"0", 2, 0},              {"68", 0, 68},
        {"1.250", 3, 1250},       {"1,250", 3, 1250},      {"", 2, -1},           {".", 2, -1},             {"68.", 2, -1},
        {".50", 2, -1},           {"68.005", 2, -1},       {"68.0", 0, -1},       {"-5", 2, -1},            {"1234,567", 2, -1},
        {"12,345,67", 2, -1},     {"1,23,456", 2, -1},     {"1.2.3", 2, -1},      {"$68", 2, -1},           {"68 USD", 2, -1},
        {"1e5", 2, -1},           {"10000000000.00", 2, 1000000000000}, {"10000000000.01", 2, -1},          {"99999999999999999999", 2, -1},
        {" 68", 2, -1},           {"1 234", 2, -1},        {"99999999999", 2, -1}, {"1000000000", 3, 1000000000000},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        dw_money money = -1;
        const char *why = "";
        const bool read = dw_money_parse(rows[i].text, rows[i].decimals, &money, &why);
        if (read != (rows[i].wanted >= 0) || money != rows[i].wanted)
            fail_msg("\"%s\": got %lld, wanted %lld (%s)", rows[i].text, (long long)money, (long long)rows[i].wanted, why);
    }
}

static void money_body(void *context)
{
    assert_string_equal(dw_money_show(context, 6800, 2), "68.00");
    assert_string_equal(dw_money_show(context, -5, 2), "-0.05");
    assert_string_equal(dw_money_show(context, 68, 0), "68");
    assert_string_equal(dw_money_show_mark(context, 6800, (struct dw_currency){.mark = "crowns", .decimals = 2}), "68.00 crowns");
    assert_string_equal(dw_money_show_mark(context, 6800, (struct dw_currency){.mark = "", .decimals = 2}), "68.00");
}

static void test_money_is_shown(void **state)
{
    (void)state;
    guarded(money_body);
}

static void test_parts_of_money_round_half_up(void **state)
{
    (void)state;
    assert_true(dw_money_part(10000, 82500) == 825);
    assert_true(dw_money_part(50, 10000) == 1); /* 0.5 of a cent */
    assert_true(dw_money_part(49, 10000) == 0);
    assert_true(dw_money_part(-50, 10000) == -1);
    assert_true(dw_money_scale(INT64_C(1000000000000), INT64_C(1000000000000), INT64_C(1000000000000)) == INT64_C(1000000000000));
}

static void test_money_is_split(void **state)
{
    (void)state;
    dw_money shares[7];
    dw_money_split(6800, (const int64_t[]){1, 1, 1}, 3, shares);
    assert_true(shares[0] == 2267 && shares[1] == 2267 && shares[2] == 2266);
    dw_money_split(100, (const int64_t[]){0, 0, 0}, 3, shares);
    assert_true(shares[0] == 34 && shares[1] == 33 && shares[2] == 33);
    dw_money_split(10, (const int64_t[]){0, 3, 7}, 3, shares);
    assert_true(shares[0] == 0 && shares[1] == 3 && shares[2] == 7);
}

/* What the largest-remainder method promises: the sum is the whole, no share strays a unit from its due, larger remainders come first. */
static void test_splits_keep_their_promise(void **state)
{
    (void)state;
    uint32_t seed = 1;
    for (int round = 0; round < 3000; round++) {
        int64_t weights[7];
        dw_money shares[7];
        int64_t total = 0;
        seed = seed * 1664525U + 1013904223U;
        const size_t count = 1 + seed % 7;
        const dw_money whole = (dw_money)(seed >> 8) % 10007;
        for (size_t i = 0; i < count; i++) {
            seed = seed * 1664525U + 1013904223U;
            weights[i] = (int64_t)(seed >> 16) % 5;
            total += weights[i];
        }
        if (total == 0)
            continue;
        dw_money_split(whole, weights, count, shares);
        dw_money sum = 0;
        for (size_t i = 0; i < count; i++) {
            sum += shares[i];
            const int64_t due = whole * weights[i] / total;
            assert_true(shares[i] == due || (shares[i] == due + 1 && whole * weights[i] % total != 0));
            for (size_t k = 0; k < i; k++) { /* who got a unit more had no smaller remainder than who did not */
                const bool more_i = shares[i] > due;
                const bool more_k = shares[k] > whole * weights[k] / total;
                const int64_t rest_i = whole * weights[i] % total;
                const int64_t rest_k = whole * weights[k] % total;
                assert_true(!(more_i && !more_k) || rest_i > rest_k);
                assert_true(!(more_k && !more_i) || rest_k >= rest_i);
            }
        }
        assert_true(sum == whole);
    }
}

/* ---- text ------------------------------------------------------------------------------------------------- */

static void text_body(void *context)
{
    struct dw_text text = dw_text_in(context);
    dw_text_add_column(&text, "oak", 5, false);
    dw_text_add_column(&text, "oak", 5, true);
    dw_text_add_column(&text, "plywood", 5, false);
    assert_string_equal(text.bytes, "oak    oakplyw\xE2\x80\xA6");
    text = dw_text_in(context);
    dw_text_add_column(&text, "24\xC2\xBD", 4, true); /* three characters in four bytes */
    dw_text_add_column(&text, "abc", 0, true);
    dw_text_add_column(&text, "\xC3\xA9\xC3\xA9\xC3\xA9", 2, true);
    assert_string_equal(text.bytes, " 24\xC2\xBD\xC3\xA9\xE2\x80\xA6");
    text = dw_text_in(context);
    for (int i = 0; i < 5000; i++)
        dw_text_addf(&text, "%d,", i % 10);
    assert_int_equal(text.length, 10000);
    assert_int_equal(strlen(text.bytes), 10000);
    assert_int_equal(dw_utf8_count("24\xC2\xBD"), 3);
}

static void test_columns_count_characters(void **state)
{
    (void)state;
    guarded(text_body);
}

static void test_clean_utf8(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        bool clean;
    } rows[] = {
        {"plain", true}, {"", true}, {"24\xC2\xBD", true}, {"\xF0\x9F\xAA\x9A", true}, {"\xEF\xBF\xBD", true}, {"\xF4\x8F\xBF\xBF", true},
        {"a\nb", false}, {"a\x7F", false}, {"\xC2\x80", false}, {"\xC2", false}, {"\x80", false}, {"\xC0\xAF", false}, {"\xE0\x80\xAF", false},
        {"\xED\xA0\x80", false}, {"\xF4\x90\x80\x80", false}, {"\xF8\x88\x80\x80\x80", false}, {"\xFF", false}, {"\xE2\x82", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_int_equal(dw_utf8_is_clean(rows[i].text, strlen(rows[i].text)), rows[i].clean);
    assert_false(dw_utf8_is_clean("a\0b", 3));
}

/* ---- addresses -------------------------------------------------------------------------------------------- */

static void address_body(void *context)
{
    const struct dw_address_step *steps = NULL;
    assert_int_equal(dw_address_split(context, "cases[0].banks[12].drawers", &steps), 5);
    assert_memory_equal(steps[0].key, "cases", steps[0].key_length);
    assert_null(steps[1].key);
    assert_int_equal(steps[3].index, 12);
    assert_int_equal(dw_address_split(context, "", &steps), 0);
    static const char *const bad[] = {".", "a..b", "a.", ".a", "a[", "a[]", "a[x]", "a[1", "a[1]b", "a[-1]", "a[99999999999999999999999]"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_int_equal(dw_address_split(context, bad[i], &steps), -1);
    assert_string_equal(dw_address_key(context, "", "cases"), "cases");
    assert_string_equal(dw_address_index(context, dw_address_key(context, "a", "b"), 3), "a.b[3]");
}

static void test_addresses(void **state)
{
    (void)state;
    guarded(address_body);
}

/* ---- faults ----------------------------------------------------------------------------------------------- */

static void test_faults_are_kept_and_counted(void **state)
{
    (void)state;
    struct dw_faults *faults = dw_faults_new();
    struct dw_faults *more = dw_faults_new();
    dw_warn(faults, "odd", "a", "it is %d\nit were better %s", 5, "six");
    assert_int_equal(faults->status, DW_DONE);
    dw_error(faults, DW_INPUT, "bad", "b", "bad");
    dw_error(faults, DW_IMPOSSIBLE, "worse", "c", "worse");
    assert_int_equal(faults->status, DW_INPUT);
    assert_string_equal(faults->at[0].wrong, "it is 5");
    assert_string_equal(faults->at[0].cure, "it were better six");
    assert_string_equal(faults->at[1].cure, "");
    dw_faults_append(more, faults, "bench: ");
    assert_int_equal(more->count, 3);
    assert_int_equal(more->errors, 2);
    assert_int_equal(more->warnings, 1);
    assert_string_equal(more->at[2].address, "bench: c");
    dw_faults_free(faults);
    assert_string_equal(more->at[2].wrong, "worse");
    dw_faults_free(more);
}

/* Faults that say the same are told once, with their places: neighbors of one list from the first to the last of them, others one by one. */
static void places_body(void *context)
{
    static const struct {
        const char *places[6];
        const char *wanted;
    } rows[] = {
        {{"a"}, "a"},
        {{"a", "b"}, "a, b"},
        {{"a[0]", "a[1]"}, "a[0] to a[1]"},
        {{"a[7]", "a[8]", "a[9]", "a[10]"}, "a[7] to a[10]"},
        {{"a[0]", "a[2]"}, "a[0], a[2]"},
        {{"a[0]", "b[1]", "b[2]"}, "a[0], b[1] to b[2]"},
        {{"a[0].x", "a[1].x"}, "a[0].x, a[1].x"},
        {{"a[3]", "a[4]", "c", "a[5]", "a[6]"}, "a[3] to a[4], c, a[5] to a[6]"},
    };
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        struct dw_faults *faults = dw_faults_new();
        for (size_t i = 0; i < 6 && rows[r].places[i] != NULL; i++) {
            dw_error(faults, DW_INPUT, "bad", rows[r].places[i], "bad");
            dw_error(faults, DW_INPUT, "odd", "elsewhere", "odd %zu", i);
        }
        assert_false(dw_fault_is_repeat(faults, 0));
        if (faults->count > 2)
            assert_true(dw_fault_is_repeat(faults, 2));
        assert_string_equal(dw_fault_places(context, faults, 0), rows[r].wanted);
        dw_faults_free(faults);
    }
}

static void test_places_are_told_together(void **state)
{
    (void)state;
    guarded(places_body);
}

static void test_no_fault_is_lost_without_memory(void **state)
{
    (void)state;
    struct dw_faults *faults = dw_faults_new();
    dw_memory_fail_at(1);
    assert_null(dw_faults_new());
    dw_memory_fail_at(1);
    dw_error(faults, DW_INPUT, "bad", "b", "bad");
    dw_memory_fail_at(0);
    assert_int_equal(faults->count, 0);
    assert_int_equal(faults->errors, 1);
    assert_int_equal(faults->status, DW_INPUT);
    assert_true(faults->out_of_memory);
    dw_faults_free(faults);
}

static void test_patience_words(void **state)
{
    (void)state;
    for (int i = DW_SHORT; i <= DW_LUNCH; i++) {
        enum dw_patience patience = DW_SHORT;
        assert_true(dw_patience_parse(dw_patience_word((enum dw_patience)i), &patience));
        assert_int_equal(patience, i);
        assert_true(i == DW_SHORT || dw_patience_units((enum dw_patience)i) > dw_patience_units((enum dw_patience)(i - 1)));
    }
    assert_false(dw_patience_parse("forever", &(enum dw_patience){DW_SHORT}));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_guard_survives_every_failure),
        cmocka_unit_test(test_guards_nest),
        cmocka_unit_test(test_arrays_grow_and_strings_copy),
        cmocka_unit_test(test_lengths_are_read),
        cmocka_unit_test(test_what_is_no_length_is_refused),
        cmocka_unit_test(test_every_sixty_fourth_goes_round),
        cmocka_unit_test(test_inches_are_millimeters),
        cmocka_unit_test(test_lengths_are_shown),
        cmocka_unit_test(test_rounding_at_the_ties),
        cmocka_unit_test(test_lengths_are_shared_by_whole_units),
        cmocka_unit_test(test_money_is_read),
        cmocka_unit_test(test_money_is_shown),
        cmocka_unit_test(test_parts_of_money_round_half_up),
        cmocka_unit_test(test_money_is_split),
        cmocka_unit_test(test_splits_keep_their_promise),
        cmocka_unit_test(test_columns_count_characters),
        cmocka_unit_test(test_clean_utf8),
        cmocka_unit_test(test_addresses),
        cmocka_unit_test(test_faults_are_kept_and_counted),
        cmocka_unit_test(test_places_are_told_together),
        cmocka_unit_test(test_no_fault_is_lost_without_memory),
        cmocka_unit_test(test_patience_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
