/* test_lp.c - the door to the solver library: small programs with known answers, what must be refused, what must be survived, and
 * a second solver's opinion on random programs. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <drawerwright/lp.h>
#include <drawerwright/memory.h>

#include "ask_cbc.h"

static void assert_near(double got, double wanted)
{
    if (fabs(got - wanted) > 1e-6)
        fail_msg("got %.9f, wanted %.9f", got, wanted);
}

/* The product-mix example of a glass works (F. S. Hillier & G. J. Lieberman, Introduction to Operations Research, chapter 3):
 * most of 3x + 5y with x <= 4, 2y <= 12, 3x + 2y <= 18 is 36 at (2, 6), with dual values 0, 3/2, 1. */
static struct dw_lp *glass_works(void)
{
    struct dw_lp *lp = dw_lp_new();
    const double most[] = {4, 12, 18};
    for (int i = 0; i < 3; i++)
        assert_int_equal(dw_lp_add_row(lp, -(double)INFINITY, most[i]), i);
    assert_int_equal(dw_lp_add_column(lp, -3, 0, (double)INFINITY, false, (const int[]){0, 2}, (const double[]){1, 3}, 2), 0);
    assert_int_equal(dw_lp_add_column(lp, -5, 0, (double)INFINITY, false, (const int[]){1, 2}, (const double[]){2, 2}, 2), 1);
    return lp;
}

static void test_textbook_optimum_and_duals(void **state)
{
    (void)state;
    struct dw_lp *lp = glass_works();
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL);
    assert_near(dw_lp_objective(lp), -36);
    assert_near(dw_lp_value(lp, 0), 2);
    assert_near(dw_lp_value(lp, 1), 6);
    const double duals[] = {0, -1.5, -1};
    for (int i = 0; i < 3; i++)
        assert_near(dw_lp_dual(lp, i), duals[i]);
    assert_true(dw_lp_work(lp) > 0);
    dw_lp_free(lp);
}

/* Cover 10 with pieces of 3: the relaxation costs 10/3 with dual 1/3 (>= 0 at a lower bound), the integer program 4. */
static void test_cover_and_cutoff(void **state)
{
    (void)state;
    struct dw_lp *lp = dw_lp_new();
    dw_lp_add_row(lp, 10, (double)INFINITY);
    dw_lp_add_column(lp, 1, 0, (double)INFINITY, true, (const int[]){0}, (const double[]){3}, 1);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL);
    assert_near(dw_lp_objective(lp), 10.0 / 3);
    assert_near(dw_lp_dual(lp, 0), 1.0 / 3);
    assert_int_equal(dw_lp_solve_integer(lp, 1000, (double)INFINITY), DW_LP_OPTIMAL);
    assert_int_equal(dw_lp_integer_value(lp, 0), 4);
    assert_int_equal(dw_lp_solve_integer(lp, 1000, 4), DW_LP_INFEASIBLE);
    assert_int_equal(dw_lp_solve_integer(lp, 1000, 4.5), DW_LP_OPTIMAL);
    assert_int_equal(dw_lp_integer_value(lp, 0), 4);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL); /* the cutoff left nothing behind */
    assert_near(dw_lp_objective(lp), 10.0 / 3);
    dw_lp_free(lp);
}

static void test_column_joins_solved_program(void **state)
{
    (void)state;
    struct dw_lp *lp = dw_lp_new();
    dw_lp_add_row(lp, 10, (double)INFINITY);
    dw_lp_add_column(lp, 1, 0, (double)INFINITY, false, (const int[]){0}, (const double[]){1}, 1);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL);
    assert_near(dw_lp_objective(lp), 10);
    dw_lp_add_column(lp, 1, 0, (double)INFINITY, false, (const int[]){0}, (const double[]){5}, 1);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL);
    assert_near(dw_lp_objective(lp), 2);
    assert_true(dw_lp_set_column(lp, 1, 1, 0, 1));
    assert_int_equal(dw_lp_add_row_over(lp, -(double)INFINITY, 4, (const int[]){0}, (const double[]){1}, 1), 1);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_INFEASIBLE); /* 4 + 5 < 10 */
    assert_true(dw_lp_set_row(lp, 0, 9, (double)INFINITY));
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL);
    assert_near(dw_lp_objective(lp), 5);
    dw_lp_free(lp);
}

static void test_infeasible_and_unbounded(void **state)
{
    (void)state;
    struct dw_lp *lp = dw_lp_new();
    dw_lp_add_row(lp, 1, (double)INFINITY);
    dw_lp_add_column(lp, 1, 0, 0.5, true, (const int[]){0}, (const double[]){1}, 1);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_INFEASIBLE);
    assert_int_equal(dw_lp_solve_integer(lp, 1000, (double)INFINITY), DW_LP_INFEASIBLE);
    dw_lp_add_column(lp, -1, 0, (double)INFINITY, false, (const int[]){0}, (const double[]){1}, 1);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_UNBOUNDED);
    dw_lp_free(lp);
}

/* An odd number as a sum of even ones: the relaxation has solutions down to depth 10, so branch and bound needs C(21, 10) nodes
 * (R. G. Jeroslow, Trivial integer programs unsolvable by branch-and-bound, Mathematical Programming 6, 1974). */
static struct dw_lp *odd_sum(void)
{
    enum { COLUMNS = 21 };
    struct dw_lp *lp = dw_lp_new();
    dw_lp_add_row(lp, COLUMNS, COLUMNS);
    for (int i = 0; i < COLUMNS; i++)
        dw_lp_add_column(lp, 1, 0, 1, true, (const int[]){0}, (const double[]){2}, 1);
    return lp;
}

static void test_node_limit_is_kept(void **state)
{
    (void)state;
    struct dw_lp *lp = odd_sum();
    assert_int_equal(dw_lp_solve_integer(lp, 50, (double)INFINITY), DW_LP_LIMIT);
    dw_lp_free(lp);
}

/* The same program without end in sight: what it may take is kept, too, give or take a node; and what was taken before counts for nothing. */
static void test_work_limit_is_kept(void **state)
{
    (void)state;
    struct dw_lp *lp = odd_sum();
    for (int64_t units = 500; units <= 2000; units *= 2) {
        const int64_t before = dw_lp_work(lp);
        dw_lp_limit_work(lp, units);
        assert_int_equal(dw_lp_solve_integer(lp, INT64_MAX, (double)INFINITY), DW_LP_LIMIT);
        assert_in_range(dw_lp_work(lp) - before, units - 1, units + 100);
    }
    dw_lp_free(lp);
}

static void test_iteration_limit_is_kept(void **state)
{
    (void)state;
    struct dw_lp *lp = glass_works();
    assert_int_equal(dw_lp_solve(lp, 1), DW_LP_LIMIT);
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL);
    dw_lp_free(lp);
}

static void test_bad_numbers_are_refused(void **state)
{
    (void)state;
    struct dw_lp *lp = glass_works();
    const double infinite = (double)INFINITY, nan = (double)NAN;
    assert_int_equal(dw_lp_add_row(lp, nan, 1), -1);
    assert_int_equal(dw_lp_add_row(lp, 2, 1), -1);
    assert_int_equal(dw_lp_add_row(lp, infinite, infinite), -1);
    assert_int_equal(dw_lp_add_column(lp, nan, 0, 1, false, NULL, NULL, 0), -1);
    assert_int_equal(dw_lp_add_column(lp, infinite, 0, 1, false, NULL, NULL, 0), -1);
    assert_int_equal(dw_lp_add_column(lp, 1, 0, 1, false, (const int[]){0}, &nan, 1), -1);
    assert_int_equal(dw_lp_add_column(lp, 1, 0.2, 0.8, true, NULL, NULL, 0), -1); /* no whole number between */
    assert_false(dw_lp_set_row(lp, 0, nan, 1));
    assert_false(dw_lp_set_column(lp, 0, nan, 0, 1));
    assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_OPTIMAL); /* none of it reached the model */
    assert_near(dw_lp_objective(lp), -36);
    dw_lp_free(lp);
}

/* A row that does not exist, and one named twice, are fatal errors to GLPK 5.0: it would end the process. */
static void test_fatal_error_kills_models_not_the_process(void **state)
{
    (void)state;
    const int misuses[2][2] = {{0, 7}, {1, 1}};
    for (size_t i = 0; i < 2; i++) {
        struct dw_lp *bystander = glass_works();
        struct dw_lp *lp = glass_works();
        assert_int_equal(dw_lp_add_column(lp, 1, 0, 1, false, misuses[i], (const double[]){1, 1}, 2), -1);
        assert_int_equal(dw_lp_solve(lp, 1000), DW_LP_FAILED);
        assert_int_equal(dw_lp_add_row(lp, 0, 1), -1);
        assert_int_equal(dw_lp_solve(bystander, 1000), DW_LP_FAILED); /* its environment is gone too */
        struct dw_lp *after = glass_works();
        dw_lp_free(bystander);
        dw_lp_free(lp);
        assert_int_equal(dw_lp_solve(after, 1000), DW_LP_OPTIMAL);
        assert_near(dw_lp_objective(after), -36);
        dw_lp_free(after);
    }
}

static void test_empty_programs(void **state)
{
    (void)state;
    struct dw_lp *lp = dw_lp_new();
    assert_int_equal(dw_lp_solve(lp, 10), DW_LP_OPTIMAL);
    assert_int_equal(dw_lp_add_column(lp, 2, 1, 3, true, NULL, NULL, 0), 0);
    assert_int_equal(dw_lp_solve_integer(lp, 10, (double)INFINITY), DW_LP_OPTIMAL);
    assert_int_equal(dw_lp_integer_value(lp, 0), 1);
    dw_lp_free(lp);
    dw_lp_free(NULL);
}

static void test_failing_memory(void **state)
{
    (void)state;
    size_t n = 1;
    for (bool whole = false; !whole; n++) {
        dw_memory_fail_at(n);
        struct dw_lp *lp = dw_lp_new();
        if (lp != NULL) {
            whole = dw_lp_add_row(lp, 1, 2) == 0;
            whole = whole && dw_lp_add_column(lp, 1, 0, 9, true, (const int[]){0}, (const double[]){1}, 1) == 0;
            whole = whole && dw_lp_solve_integer(lp, 10, (double)INFINITY) == DW_LP_OPTIMAL;
        }
        dw_lp_free(lp);
    }
    dw_memory_fail_at(0);
    assert_true(n > 3);
}

/* ---- the second opinion: cbc of the COIN-OR project, when it is installed ---- */

static uint64_t draw(uint64_t *seed, uint64_t below)
{
    *seed = *seed * 6364136223846793005U + 1442695040888963407U;
    return (*seed >> 33) % below;
}

static struct dw_lp *random_program(uint64_t *seed, int columns, int64_t *cost)
{
    enum { ROWS = 6 };
    struct dw_lp *lp = dw_lp_new();
    for (int i = 0; i < ROWS; i++)
        dw_lp_add_row(lp, (double)(3 + draw(seed, 20)), (double)INFINITY);
    for (int j = 0; j < columns; j++) {
        int rows[ROWS];
        double entries[ROWS];
        size_t count = 0;
        for (int i = 0; i < ROWS; i++)
            if (draw(seed, 3) == 0) {
                rows[count] = i;
                entries[count++] = (double)(1 + draw(seed, 5));
            }
        cost[j] = (int64_t)(5 + draw(seed, 30));
        dw_lp_add_column(lp, (double)cost[j], 0, (double)draw(seed, 6), true, rows, entries, count);
    }
    return lp;
}

static void test_agrees_with_cbc(void **state)
{
    (void)state;
    enum { COLUMNS = 14 };
    if (!has_cbc())
        skip();
    char path[] = "dw-test-lp-XXXXXX";
    const int handle = mkstemp(path);
    assert_true(handle >= 0);
    (void)close(handle);
    uint64_t seed = 20;
    int solved = 0;
    for (int round = 0; round < 25; round++) {
        int64_t cost[COLUMNS], total = 0;
        struct dw_lp *lp = random_program(&seed, COLUMNS, cost);
        assert_true(dw_lp_write(lp, path));
        const double theirs = ask_cbc(path);
        const enum dw_lp_answer answer = dw_lp_solve_integer(lp, 100000, (double)INFINITY);
        assert_int_equal(answer, theirs < 0 ? DW_LP_INFEASIBLE : DW_LP_OPTIMAL);
        for (int j = 0; j < COLUMNS && theirs >= 0; j++)
            total += cost[j] * dw_lp_integer_value(lp, j);
        if (theirs >= 0) {
            assert_near((double)total, theirs);
            solved++;
        }
        dw_lp_free(lp);
    }
    (void)remove(path);
    assert_in_range(solved, 5, 24); /* both answers occurred */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_textbook_optimum_and_duals),
        cmocka_unit_test(test_cover_and_cutoff),
        cmocka_unit_test(test_column_joins_solved_program),
        cmocka_unit_test(test_infeasible_and_unbounded),
        cmocka_unit_test(test_node_limit_is_kept),
        cmocka_unit_test(test_work_limit_is_kept),
        cmocka_unit_test(test_iteration_limit_is_kept),
        cmocka_unit_test(test_bad_numbers_are_refused),
        cmocka_unit_test(test_fatal_error_kills_models_not_the_process),
        cmocka_unit_test(test_empty_programs),
        cmocka_unit_test(test_failing_memory),
        cmocka_unit_test(test_agrees_with_cbc),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
