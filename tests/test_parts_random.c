/* test_parts_random.c - what holds of every parts list, on random drawers: nothing lost, nothing twice, nothing gathered that differs, and
 * the same list again from the same job.
 */
#include "parts_fixture.h"

#include <stdlib.h>

struct dice {
    uint64_t state;
};

static uint64_t roll(struct dice *dice, uint64_t sides)
{
    dice->state = dice->state * 6364136223846793005U + 1442695040888963407U; /* Knuth, TAOCP 2, 3.3.4 */
    return (dice->state >> 33) % sides;
}

static void throw_drawer(struct fixture *f, struct dice *dice, size_t bank)
{
    const enum dw_joint joint = (enum dw_joint)(DW_BUTT + roll(dice, DW_MITER - DW_BUTT + 1));
    const dw_length width = IN(80 + (dw_length)roll(dice, 6) * 8, 8);
    struct dw_drawer *drawer = fixture_drawer(f, bank, width, IN(24 + (dw_length)roll(dice, 3) * 8, 8), 20 * DW_INCH, roll(dice, 2), 2, joint);
    drawer->box.bottom = (enum dw_bottom)(DW_BOTTOM_GROOVED + roll(dice, 4));
    drawer->box.bottom_clearance = IN((dw_length)roll(dice, 2), 32);
    drawer->fill = roll(dice, 10) == 0 ? DW_FILL_OPEN : DW_FILL_DRAWER;
    drawer->front.grain = roll(dice, 4) == 0 ? DW_GRAIN_VERTICAL : DW_GRAIN_HORIZONTAL;
    drawer->front.banding[roll(dice, DW_EDGES)] = roll(dice, 2) == 0 ? 0 : DW_NO_INDEX;
    drawer->front.matched = bank == 0;
    if (bank == 0) { /* must be able to match */
        drawer->front.material = 1;
        drawer->front.grain = DW_GRAIN_HORIZONTAL;
        fixture_front(f, bank, f->banks[bank].drawer_count - 1, 0, 0, 30 * DW_INCH, 5 * DW_INCH);
        drawer->front.banding[DW_LEFT] = drawer->front.banding[DW_RIGHT] = DW_NO_INDEX;
    }
}

static void throw_job(struct fixture *f, uint64_t seed)
{
    struct dice dice = {.state = seed};
    fixture_open(f, DW_IN);
    (void)fixture_material(f, "half", IN(1, 2));
    (void)fixture_material(f, "five", IN(5, 8));
    (void)fixture_material(f, "quarter", IN(1, 4));
    f->bandings[0] = (struct dw_banding){.id = "tape", .name = "tape", .thickness = IN(1, 32), .width = DW_INCH, .roll = 300 * DW_INCH};
    f->job.shop.banding_count = 1;
    f->source.count = 1 + (int64_t)roll(&dice, 3);
    fixture_spares(f, roll(&dice, 2) == 0 ? 0 : 15);
    for (size_t bank = 0; bank < FIXTURE_BANKS; bank++)
        for (uint64_t i = 1 + roll(&dice, FIXTURE_DRAWERS); i > 0; i--)
            throw_drawer(f, &dice, bank);
}

static size_t drawers_of(const struct fixture *f)
{
    size_t count = 0;
    for (size_t b = 0; b < FIXTURE_BANKS; b++)
        for (size_t d = 0; d < f->banks[b].drawer_count; d++)
            count += f->drawers[b][d].fill == DW_FILL_DRAWER ? (size_t)f->source.count : 0;
    return count;
}

static void check_counts(const struct fixture *f)
{
    size_t pieces[DW_PART_EXTRA + 1] = {0};
    for (size_t i = 0; i < f->parts->count; i++)
        pieces[f->parts->at[i].kind] += f->parts->at[i].count - f->parts->at[i].spares;
    const size_t drawers = drawers_of(f);
    assert_int_equal(pieces[DW_PART_SIDE], 2 * drawers);
    assert_int_equal(pieces[DW_PART_BOX_FRONT], drawers);
    assert_int_equal(pieces[DW_PART_BACK], drawers);
    assert_int_equal(pieces[DW_PART_BOTTOM], drawers);
    assert_int_equal(pieces[DW_PART_FRONT], drawers);
}

static int compare_marks(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static void check_marks(const struct fixture *f)
{
    const char *marks[2000];
    size_t count = 0;
    for (size_t i = 0; i < f->parts->count; i++)
        for (size_t k = 0; k < f->parts->at[i].count; k++)
            marks[count++] = f->parts->at[i].pieces[k].mark;
    qsort(marks, count, sizeof *marks, compare_marks);
    for (size_t i = 1; i < count; i++)
        assert_string_not_equal(marks[i - 1], marks[i]);
}

static bool same_works(const struct dw_part *a, const struct dw_part *b)
{
    if (a->work_count != b->work_count)
        return false;
    for (size_t i = 0; i < a->work_count; i++)
        if (strcmp(a->works[i].words, b->works[i].words) != 0)
            return false;
    return true;
}

/* No two parts are alike in all that the list shows (matched fronts stand apart from others). */
static void check_apart(const struct fixture *f)
{
    for (size_t i = 0; i < f->parts->count; i++)
        for (size_t k = i + 1; k < f->parts->count; k++) {
            const struct dw_part *a = &f->parts->at[i];
            const struct dw_part *b = &f->parts->at[k];
            const bool alike = a->kind == b->kind && a->kind != DW_PART_FRONT && a->material == b->material && a->length.value == b->length.value &&
                               a->width.value == b->width.value && a->grain == b->grain && same_works(a, b) &&
                               memcmp(a->banding, b->banding, sizeof a->banding) == 0;
            assert_false(alike);
        }
}

static void check_matches(const struct fixture *f)
{
    for (size_t i = 0; i < f->parts->match_count; i++) {
        const struct dw_match *match = &f->parts->matches[i];
        const struct dw_piece *last = NULL;
        for (size_t k = 0; k < match->count; k++) {
            const struct dw_part *part = &f->parts->at[match->parts[k]];
            assert_int_equal(part->kind, DW_PART_FRONT);
            assert_true(match->pieces[k] < part->count - part->spares);
            const struct dw_piece *piece = &part->pieces[match->pieces[k]];
            assert_true(last == NULL || (last->case_copy == piece->case_copy && last->drawer_index < piece->drawer_index));
            last = piece;
        }
    }
}

static void check_same_again(struct fixture *f)
{
    const struct dw_parts *first = f->parts;
    fixture_make(f);
    assert_int_equal(first->count, f->parts->count);
    for (size_t i = 0; i < first->count; i++) {
        assert_string_equal(first->at[i].id, f->parts->at[i].id);
        assert_int_equal(first->at[i].length.value, f->parts->at[i].length.value);
        assert_string_equal(first->at[i].pieces[0].mark, f->parts->at[i].pieces[0].mark);
    }
}

static void test_random_jobs(void **state)
{
    (void)state;
    const uint64_t rounds = getenv("DW_LONG") != NULL ? 20000 : 500;
    for (uint64_t seed = 1; seed <= rounds; seed++) {
        struct fixture f;
        throw_job(&f, seed);
        fixture_make(&f);
        check_counts(&f);
        check_marks(&f);
        check_apart(&f);
        check_matches(&f);
        for (size_t i = 0; i < f.parts->count; i++) {
            assert_int_equal(dw_figure_again(&f.parts->at[i].length), f.parts->at[i].length.value);
            assert_int_equal(dw_figure_again(&f.parts->at[i].width), f.parts->at[i].width.value);
        }
        check_same_again(&f);
        fixture_close(&f);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_random_jobs)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
