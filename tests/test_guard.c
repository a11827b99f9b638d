/* test_guard.c - the page's guard, row by row. The attacks are those of the OWASP testing guide's chapters on host headers, cross-site requests and path
 * traversal (from memory). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>


#include "page/guard.h"

static const struct dwi_door door = {.port = 40404, .token = "s3cret"};

struct row {
    const char *name;
    int wanted;
    struct dwi_asked asked;
};

#define HOST "127.0.0.1:40404"
#define OURS "http://127.0.0.1:40404"
#define JSON "application/json"

static const struct row rows[] = {
    {"the page itself", 0, {"GET", "/", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"an asset by localhost", 0, {"GET", "/page.js", "localhost:40404", NULL, NULL, NULL, NULL, false, false}},
    {"data with the token", 0, {"GET", "/api/jobs", HOST, NULL, NULL, NULL, "s3cret", false, false}},
    {"data without the token", 403, {"GET", "/api/jobs", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"data with a wrong token", 403, {"GET", "/api/jobs", HOST, NULL, NULL, NULL, "s3creT", false, false}},
    {"data with a longer token", 403, {"GET", "/api/jobs", HOST, NULL, NULL, NULL, "s3cret2", false, false}},
    {"a rebound name", 403, {"GET", "/", "evil.example:40404", NULL, NULL, NULL, NULL, false, false}},
    {"another port", 403, {"GET", "/", "127.0.0.1:80", NULL, NULL, NULL, NULL, false, false}},
    {"a host without port", 403, {"GET", "/", "127.0.0.1", NULL, NULL, NULL, NULL, false, false}},
    {"no host", 403, {"GET", "/", NULL, NULL, NULL, NULL, NULL, false, false}},
    {"two hosts", 400, {"GET", "/", HOST, NULL, NULL, NULL, NULL, true, false}},
    {"read from another site", 403, {"GET", "/api/jobs", HOST, "http://evil.example", NULL, NULL, "s3cret", false, false}},
    {"a saved job", 0, {"POST", "/api/save", HOST, OURS, JSON, "12", "s3cret", false, false}},
    {"a saved job with charset", 0, {"POST", "/api/save", HOST, OURS, JSON "; charset=utf-8", "12", "s3cret", false, false}},
    {"changed from another site", 403, {"POST", "/api/save", HOST, "http://evil.example", JSON, "12", "s3cret", false, false}},
    {"changed from a sandbox", 403, {"POST", "/api/save", HOST, "null", JSON, "12", "s3cret", false, false}},
    {"changed by https of ours", 403, {"POST", "/api/save", HOST, "https://127.0.0.1:40404", JSON, "12", "s3cret", false, false}},
    {"changed without origin", 403, {"POST", "/api/save", HOST, NULL, JSON, "12", "s3cret", false, false}},
    {"a form", 415, {"POST", "/api/save", HOST, OURS, "application/x-www-form-urlencoded", "12", "s3cret", false, false}},
    {"plain text", 415, {"POST", "/api/save", HOST, OURS, "text/plain", "12", "s3cret", false, false}},
    {"nearly JSON", 415, {"POST", "/api/save", HOST, OURS, "application/jsonp", "12", "s3cret", false, false}},
    {"no length", 411, {"POST", "/api/save", HOST, OURS, JSON, NULL, "s3cret", false, false}},
    {"chunked", 411, {"POST", "/api/save", HOST, OURS, JSON, "12", "s3cret", false, true}},
    {"too long", 413, {"POST", "/api/save", HOST, OURS, JSON, "4194305", "s3cret", false, false}},
    {"absurdly long", 413, {"POST", "/api/save", HOST, OURS, JSON, "99999999999999999999", "s3cret", false, false}},
    {"negative length", 413, {"POST", "/api/save", HOST, OURS, JSON, "-1", "s3cret", false, false}},
    {"no number", 413, {"POST", "/api/save", HOST, OURS, JSON, "12x", "s3cret", false, false}},
    {"another method", 405, {"TRACE", "/", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"options", 405, {"OPTIONS", "/api/save", HOST, OURS, NULL, NULL, NULL, false, false}},
    {"up the tree", 400, {"GET", "/../../etc/passwd", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"backslashes", 400, {"GET", "/..\\etc", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"a whole address", 400, {"GET", "http://evil/", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"two slashes", 400, {"GET", "//evil/", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"a control character, as the server makes of a hidden end", 400, {"GET", "/page.js\001.css", HOST, NULL, NULL, NULL, NULL, false, false}},
    {"a line break", 400, {"GET", "/a\nb", HOST, NULL, NULL, NULL, NULL, false, false}},
};

static void test_rows(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const int got = dwi_guard(&door, &rows[i].asked);
        if (got != rows[i].wanted) {
            print_error("%s: wanted %d, got %d\n", rows[i].name, rows[i].wanted, got);
            fail();
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_rows)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
