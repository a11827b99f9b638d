/* test_base.c - the base room: arenas under failing memory, faults, and the first lengths. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <drawerwright/length.h>
#include <drawerwright/memory.h>

static void body(void *context)
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
    for (dw_memory_fail_at(n); !dw_arena_guard(arena, body, arena); dw_memory_fail_at(++n))
        continue;
    dw_memory_fail_at(0);
    assert_true(n > 3);
    dw_arena_free(arena);
}

static void test_mixed_fraction(void **state)
{
    (void)state;
    dw_length length = 0;
    assert_true(dw_length_parse("24 1/2", DW_IN, &length, NULL));
    assert_int_equal(length, 24 * DW_INCH + DW_INCH / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_guard_survives_every_failure),
        cmocka_unit_test(test_mixed_fraction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
