/* test_job.c - completing jobs: defaults, what is taken from above, ranges and contradictions. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "job_from.h"

static struct dw_arena *arena;
static struct dw_faults *faults;

static int set_up(void **state)
{
    (void)state;
    arena = dw_arena_new();
    faults = dw_faults_new();
    return arena == NULL || faults == NULL;
}

static int tear_down(void **state)
{
    (void)state;
    dw_arena_free(arena);
    dw_faults_free(faults);
    return 0;
}

static const char PLAIN[] = "{\"units\": \"in\", " TEST_SHOP ", \"cases\": [{\"name\": \"Bench\", \"opening\": {\"width\": 15, \"height\": \"24 1/2\", "
                            "\"depth\": 22}, " TEST_MAKE ", \"banks\": [{\"drawers\": 4}]}]}";

static void test_plain_job_is_completed(void **state)
{
    (void)state;
    const struct dw_job *job = good_job(PLAIN, arena);
    const struct dw_bank *bank = &job->cases[0].banks[0];
    assert_int_equal(bank->drawer_count, 4);
    assert_int_equal(bank->gap, DW_INCH / 8);
    assert_int_equal(job->shop.habits.kerf, DW_INCH / 8);
    assert_string_equal(bank->drawers[3].name, "4");
    assert_int_equal(bank->drawers[0].box.front_material, bank->drawers[0].box.side_material);
    assert_int_equal(bank->drawers[0].front.material, 0);
    assert_int_equal(bank->drawers[0].box.front.joint, DW_RABBET_AND_DADO);
    assert_int_equal(bank->drawers[0].box.groove_depth, DW_INCH / 4);
    assert_int_equal(bank->drawers[0].fit.kind, DW_FULL_OVERLAY);
    assert_int_equal(job->shop.slides[0].clearance, DW_INCH / 2);
    assert_int_equal(job->shop.materials[0].grained, DW_GRAINED);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_plain_job_is_completed, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
