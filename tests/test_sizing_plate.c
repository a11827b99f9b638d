/* test_sizing_plate.c - the sag of a plate against printed tables and an independent summation. */
#include "sizing_bench.h"

/* A plate of short side 1 m and thickness 1 cm, E = 1e9 Pa, q = 1e3 Pa: y = alpha x 1e3 x 1 / (1e9 x 1e-6) m = alpha m. */
static double alpha(double ratio)
{
    const dw_length meter = 1000 * DW_MM;
    const dw_length sag = dw_plate_sag((dw_length)(ratio * (double)meter + 0.5), meter, 10 * DW_MM, 1000, 1000000000);
    return (double)sag / (double)meter;
}

struct row {
    double ratio, value;
};

/* Roark's Formulas for Stress and Strain, Table 11.4 case 1a, nu = 0.3. The handbook's value at 1.4 is 0.5 % low. */
static const struct row roark[] = {{1.0, .0444}, {1.2, .0616}, {1.4, .0770}, {1.6, .0906}, {1.8, .1017},
                                   {2.0, .1110}, {3.0, .1335}, {4.0, .1400}, {5.0, .1417}, {20.0, .1421}};

static void test_roark_within_one_percent(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof roark / sizeof *roark; i++) {
        const double got = alpha(roark[i].ratio);
        if (got < roark[i].value * 0.99 || got > roark[i].value * 1.01)
            fail_msg("a/b %.1f: Roark %.4f, got %.5f", roark[i].ratio, roark[i].value, got);
    }
}

/* Timoshenko and Woinowsky-Krieger's alpha' = w D / (q b^4) by Navier's and by Levy's series (computed two ways with a
 * numerical program; the printed table agrees to three figures, from memory); alpha = 12 (1 - 0.09) alpha'. */
static const struct row series[] = {{1.0, .004062}, {1.1, .004869}, {1.2, .005651}, {1.3, .006392}, {1.4, .007085},
                                    {1.5, .007724}, {1.6, .008308}, {1.7, .008838}, {1.8, .009316}, {1.9, .009745},
                                    {2.0, .010129}, {3.0, .012233}, {4.0, .012819}, {5.0, .012971}};

static void test_series_in_four_figures(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof series / sizeof *series; i++) {
        const double wanted = series[i].value * 12 * 0.91;
        const double got = alpha(series[i].ratio);
        if (got < wanted * 0.9998 || got > wanted * 1.0002)
            fail_msg("a/b %.1f: series %.6f, got %.6f", series[i].ratio, wanted, got);
    }
    const double strip = 12 * 0.91 * 5 / 384; /* the infinite strip is a beam: 5/384 */
    assert_true(alpha(100) > strip * 0.9995 && alpha(100) < strip * 1.0005);
}

/* Arithmetic with the same formula, q = 15 lb/ft2 (718.2 Pa) and E = 1,000,000 psi (6.895 GPa, a round figure for the
 * test and no property of any wood). */
static void test_drawer_bottoms(void **state)
{
    (void)state;
    static const struct {
        const char *a, *b;
        double thickness, sag;
    } bottoms[] = {{"12", "12", .25, .00613},   {"18", "12", .25, .01166},       {"24", "18", .25, .05066},
                   {"24", "18", .20, .09894},   {"19 1/2", "12 1/2", .25, .01436}, {"18", "24", .25, .05066}};
    for (size_t i = 0; i < sizeof bottoms / sizeof *bottoms; i++) {
        const dw_length thickness = (dw_length)(bottoms[i].thickness * 406400);
        const double got = (double)dw_plate_sag(in(bottoms[i].a), in(bottoms[i].b), thickness, 718, 6894757293) / 406400;
        if (got < bottoms[i].sag * 0.998 || got > bottoms[i].sag * 1.002)
            fail_msg("%s x %s: wanted %.5f in, got %.5f", bottoms[i].a, bottoms[i].b, bottoms[i].sag, got);
    }
}

static void test_edges_of_the_formula(void **state)
{
    (void)state;
    assert_int_equal(dw_plate_sag(in("12"), in("12"), in("1/4"), 718, 0), 0);
    assert_int_equal(dw_plate_sag(0, in("12"), in("1/4"), 718, 1000000000), 0);
    assert_int_equal(dw_plate_sag(in("12"), in("12"), 0, 718, 1000000000), in("12"));
    assert_int_equal(dw_plate_sag(DW_LENGTH_MAX, DW_LENGTH_MAX, in("1/4"), INT64_MAX, 1), DW_LENGTH_MAX);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_roark_within_one_percent),
        cmocka_unit_test(test_series_in_four_figures),
        cmocka_unit_test(test_drawer_bottoms),
        cmocka_unit_test(test_edges_of_the_formula),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
