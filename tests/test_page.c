/* test_page.c - the page's server over real sockets, on the loopback address only: right answers, and hostile requests of every kind that its rules speak of.
 *
 * After each attack the server must still answer an honest request. The attacks are those of the OWASP testing guide (host headers, cross-site requests,
 * path traversal, slow and unfinished requests; from memory) and of RFC 9112 (framing: doubled and conflicting lengths, sections 3.2 and 6).
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

#include <drawerwright/page.h>

enum { ROOM = 1 << 20, CROWD = 200, STORM = 40, HUGE = (4 << 20) + 1 };

/* The server under test, and the folder that it serves. */
struct site {
    char folder[64];
    char outside[64]; /* a folder beside it, with a file that must never be read */
    struct dw_faults *faults;
    struct dw_page *page;
    unsigned port;
    char token[40];
    char *answer; /* the last one, ROOM bytes */
};

static struct site site;

static const char JOB[] = "{\"format\": 1, \"name\": \"Chest\", \"units\": \"in\", \"shop\": \"shop.json\", \"cases\": [{\"name\": \"Case\", \"fit\": \"inset\", \"slide\": \"side\","
                          " \"opening\": {\"width\": \"24 1/2\", \"height\": \"24 1/2\", \"depth\": \"22\"}, \"front\": {\"material\": \"cherry-3/4\"},"
                          " \"box\": {\"sides\": \"birch-1/2\", \"bottom\": \"birch-1/4\"}, \"banks\": [{\"drawers\": 4}]}]}";

/* ---- sockets --------------------------------------------------------------------------------------------------- */

static int dial(void)
{
    const struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)site.port), .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    const struct timeval patience = {.tv_sec = 120};
    const int line = socket(AF_INET, SOCK_STREAM, 0);
    assert_true(line >= 0);
    (void)setsockopt(line, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    assert_int_equal(connect(line, (const struct sockaddr *)&address, sizeof address), 0);
    return line;
}

/* Sends as much as the other side takes; false when it hung up. */
static bool say(int line, const char *bytes, size_t length)
{
    while (length > 0) {
        const ssize_t sent = send(line, bytes, length, MSG_NOSIGNAL);
        if (sent <= 0)
            return false;
        bytes += sent;
        length -= (size_t)sent;
    }
    return true;
}

/* Reads to the end; the status of the answer, 0 for none. */
static int hear(int line)
{
    size_t length = 0;
    for (ssize_t got = 0; length + 1 < ROOM && (got = recv(line, site.answer + length, ROOM - 1 - length, 0)) > 0;)
        length += (size_t)got;
    site.answer[length] = '\0';
    int status = 0;
    return sscanf(site.answer, "HTTP/1.1 %d", &status) == 1 ? status : 0;
}

static int ask_raw(const char *request, size_t length)
{
    const int line = dial();
    (void)say(line, request, length);
    const int status = hear(line);
    (void)close(line);
    return status;
}

/* $H becomes our host, $O our origin, $T the token; every request asks for the connection to be closed. */
static size_t fill(const char *form, char *request)
{
    size_t length = 0;
    for (; *form != '\0'; form++) {
        char *end = request + length;
        if (form[0] == '$' && form[1] == 'H')
            length += (size_t)sprintf(end, "127.0.0.1:%u", site.port);
        else if (form[0] == '$' && form[1] == 'O')
            length += (size_t)sprintf(end, "http://127.0.0.1:%u", site.port);
        else if (form[0] == '$' && form[1] == 'T')
            length += (size_t)sprintf(end, "%s", site.token);
        else {
            request[length++] = *form;
            continue;
        }
        form++;
    }
    request[length] = '\0';
    return length;
}

static int ask_form(const char *form)
{
    char request[16384];
    return ask_raw(request, fill(form, request));
}

static int get(const char *path)
{
    char form[512];
    (void)snprintf(form, sizeof form, "GET %s HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", path);
    return ask_form(form);
}

static int post(const char *path, const char *body)
{
    char form[16384];
    (void)snprintf(form, sizeof form,
                   "POST %s HTTP/1.1\r\nHost: $H\r\nOrigin: $O\r\nX-Page-Token: $T\r\nContent-Type: application/json\r\nContent-Length: %zu\r\nConnection: close\r\n\r\n%s",
                   path, strlen(body), body);
    return ask_form(form);
}

static void expect_alive(void)
{
    assert_int_equal(get("/"), 200);
    assert_non_null(strstr(site.answer, "<!doctype html>"));
    assert_int_equal(post("/api/size", JOB), 200);
    assert_non_null(strstr(site.answer, "\"front_height\""));
}

/* ---- a folder and a server ---------------------------------------------------------------------------------------- */

static void write_file(const char *folder, const char *name, const char *bytes)
{
    char path[256];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(bytes, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static void copy_shop(void)
{
    char *bytes = calloc(1, ROOM);
    FILE *file = fopen(DW_SOURCE_DIR "/samples/shop.json", "r");
    assert_true(bytes != NULL && file != NULL);
    assert_true(fread(bytes, 1, ROOM - 1, file) > 0);
    assert_int_equal(fclose(file), 0);
    write_file(site.folder, "shop.json", bytes);
    free(bytes);
}

static int start(void **state)
{
    (void)state;
    (void)signal(SIGPIPE, SIG_IGN);
    (void)strcpy(site.folder, "/tmp/dw-site-XXXXXX");
    (void)strcpy(site.outside, "/tmp/dw-beside-XXXXXX");
    if (mkdtemp(site.folder) == NULL || mkdtemp(site.outside) == NULL)
        return -1;
    site.answer = calloc(1, ROOM);
    copy_shop();
    write_file(site.folder, "chest.json", JOB);
    write_file(site.outside, "secret.json", "{\"word\": \"quillhaven\"}");
    site.faults = dw_faults_new();
    const struct dw_page_options options = {.folder = site.folder, .job = "chest"};
    if (site.answer == NULL || dw_page_start(&options, site.faults, &site.page) != DW_DONE)
        return -1;
    return sscanf(dw_page_address(site.page), "http://127.0.0.1:%u/#%39s", &site.port, site.token) == 2 ? 0 : -1;
}

static int stop(void **state)
{
    (void)state;
    dw_page_stop(site.page);
    dw_faults_free(site.faults);
    free(site.answer);
    char call[256];
    (void)snprintf(call, sizeof call, "rm -rf %s %s", site.folder, site.outside);
    return system(call);
}

/* ---- what an honest page gets --------------------------------------------------------------------------------------- */

static void test_serves_the_page_with_its_headers(void **state)
{
    (void)state;
    static const char *const headers[] = {
        "Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; frame-ancestors 'none'",
        "X-Content-Type-Options: nosniff", "Cache-Control: no-store", "Referrer-Policy: no-referrer"};
    assert_int_equal(get("/"), 200);
    for (size_t i = 0; i < sizeof headers / sizeof *headers; i++)
        assert_non_null(strstr(site.answer, headers[i]));
    assert_null(strstr(site.answer, "Access-Control")); /* no other site is ever granted anything */
    assert_null(strstr(site.answer, site.token));       /* the secret is in the address alone */
}

/* Whether a file of the folder holds a text. */
static bool holds(const char *name, const char *text)
{
    char path[256];
    (void)snprintf(path, sizeof path, "%s/%s", site.folder, name);
    FILE *file = fopen(path, "r");
    if (file == NULL)
        return false;
    const size_t length = fread(site.answer, 1, ROOM - 1, file);
    site.answer[length] = '\0';
    (void)fclose(file);
    return strstr(site.answer, text) != NULL;
}

static void test_saves_over_the_version_it_knows_only(void **state)
{
    (void)state;
    char path[128];
    char version[32] = "";
    assert_int_equal(post("/api/save?id=new&version=", "{\"a\": 1}"), 200);
    assert_int_equal(sscanf(strstr(site.answer, "{\"version\""), "{\"version\": \"%31[0-9a-f]\"", version), 1);
    assert_int_equal(post("/api/save?id=new&version=", "{\"a\": 2}"), 409); /* it is there already */
    assert_non_null(strstr(site.answer, "changed-on-disk"));
    assert_int_equal(post("/api/draft?id=new", "{\"a\": 3}"), 200);
    (void)snprintf(path, sizeof path, "/api/save?id=new&version=%s", version);
    assert_int_equal(post(path, "{\"a\": 4}"), 200);
    assert_false(holds(".drafts/new.json", "3")); /* saved: no draft any more */
    assert_true(holds("new.json", "{\"a\": 4}"));
    assert_int_equal(post(path, "{\"a\": 5}"), 409);
    assert_true(holds("new.json", "{\"a\": 4}"));
}

static void pause_shortly(void)
{
    const struct timespec time = {.tv_nsec = 20000000};
    (void)nanosleep(&time, NULL);
}

static long long start_plan(const char *query)
{
    char path[128];
    long long run = 0;
    (void)snprintf(path, sizeof path, "/api/plan?id=chest%s", query);
    assert_int_equal(post(path, JOB), 202);
    assert_int_equal(sscanf(strstr(site.answer, "{\"run\""), "{\"run\": %lld", &run), 1);
    return run;
}

static void wait_for_plan(long long run)
{
    char path[64];
    (void)snprintf(path, sizeof path, "/api/plan?run=%lld", run);
    for (int i = 0; i < 3000; i++) {
        assert_int_equal(get(path), 200);
        if (strstr(site.answer, "\"state\": \"working\"") == NULL)
            return;
        pause_shortly();
    }
    fail_msg("the plan never came");
}

static void test_plans_and_posts(void **state)
{
    (void)state;
    char path[64];
    char plan[16] = "";
    const long long run = start_plan("&patience=short");
    wait_for_plan(run);
    assert_non_null(strstr(site.answer, "\"state\": \"done\""));
    (void)snprintf(path, sizeof path, "/api/packet?run=%lld&paper=a4&labels=yes&sticks=yes", run);
    assert_int_equal(get(path), 200);
    assert_non_null(strstr(site.answer, "Content-Type: application/pdf"));
    assert_non_null(strstr(site.answer, "%PDF-"));
    (void)snprintf(path, sizeof path, "/api/plan/file?run=%lld", run);
    assert_int_equal(get(path), 200);
    assert_int_equal(sscanf(strstr(site.answer, "\"plan_id\""), "\"plan_id\": \"%15[A-Z0-9]\"", plan), 1);
    (void)snprintf(path, sizeof path, "/api/rack/post?run=%lld", run);
    assert_int_equal(post(path, "{}"), 200);
    assert_int_equal(post(path, "{}"), 409); /* once only */
    assert_int_equal(get("/api/rack?units=in"), 200);
    assert_non_null(strstr(site.answer, "\"id\": \"R1\""));
    (void)snprintf(path, sizeof path, "/api/rack/undo?plan=%s", plan);
    assert_int_equal(post(path, "{}"), 200);
    assert_int_equal(get("/api/rack?units=in"), 200);
    assert_non_null(strstr(site.answer, "{\"offcuts\": []"));
    assert_int_equal(post("/api/rack/post?run=999999", "{}"), 409);
    assert_int_equal(get("/api/packet?run=999999"), 409);
}

/* ---- requests that must be refused ---------------------------------------------------------------------------------------- */

#define OURS "Origin: $O\r\nX-Page-Token: $T\r\nContent-Type: application/json\r\nConnection: close\r\n"

static const struct {
    const char *name, *form;
    int wanted; /* HTTP status; 0: the connection is closed without an answer; -1: 400 or closed, as the HTTP library likes */
} refused[] = {
    {"no host", "GET / HTTP/1.1\r\nConnection: close\r\n\r\n", 400},
    {"an old request without host", "GET / HTTP/1.0\r\n\r\n", 403},
    {"another host", "GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n", 403},
    {"a rebound name with our port", "GET /api/files HTTP/1.1\r\nHost: evil.example:80\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 403},
    {"two hosts, ours first", "GET / HTTP/1.1\r\nHost: $H\r\nHost: evil.example\r\nConnection: close\r\n\r\n", 400},
    {"two hosts, ours last", "GET / HTTP/1.1\r\nHost: evil.example\r\nhost: $H\r\nConnection: close\r\n\r\n", 400},
    {"data without the token", "GET /api/files HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 403},
    {"data with a wrong token", "GET /api/files HTTP/1.1\r\nHost: $H\r\nX-Page-Token: 00000000000000000000000000000000\r\nConnection: close\r\n\r\n", 403},
    {"data with two tokens", "GET /api/files HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 400},
    {"the token in the query", "GET /api/files?token=$T HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 403},
    {"from another site", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\nOrigin: http://evil.example\r\nX-Page-Token: $T\r\nContent-Type: application/json\r\n"
                          "Content-Length: 2\r\nConnection: close\r\n\r\n{}", 403},
    {"from nowhere", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nContent-Type: application/json\r\nContent-Length: 2\r\nConnection: close\r\n\r\n{}", 403},
    {"from a sandbox", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\nOrigin: null\r\nX-Page-Token: $T\r\nContent-Type: application/json\r\nContent-Length: 2\r\n"
                       "Connection: close\r\n\r\n{}", 403},
    {"a form", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\nOrigin: $O\r\nX-Page-Token: $T\r\nContent-Type: text/plain\r\nContent-Length: 2\r\nConnection: close\r\n\r\n{}", 415},
    {"chunked", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\n" OURS "Transfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n", 411},
    {"chunked and with a length", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n", -1},
    {"two lengths", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 2\r\nContent-Length: 2\r\n\r\n{}", 400},
    {"two lengths at odds", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 2\r\nContent-Length: 200\r\n\r\n{}", -1},
    {"a negative length", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: -2\r\n\r\n{}", -1},
    {"an absurd length", "POST /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 99999999999999999999999\r\n\r\n{}", -1},
    {"a body that is announced too long", "POST /api/size HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 4194305\r\n\r\n{}", 413},
    {"a method of no use", "TRACE / HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 405},
    {"a preflight", "OPTIONS /api/save HTTP/1.1\r\nHost: $H\r\nOrigin: http://evil.example\r\nAccess-Control-Request-Method: POST\r\nConnection: close\r\n\r\n", 405},
    {"a change by GET", "GET /api/save?id=x&version= HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 405},
    {"up the tree", "GET /../../etc/passwd HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 400},
    {"up the tree, in code", "GET /..%2f..%2fetc/passwd HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 400},
    {"up the tree, in code of code", "GET /%252e%252e/etc/passwd HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 404},
    {"a whole address", "GET http://evil.example/ HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 400},
    {"a hidden end", "GET /page.js%00.html HTTP/1.1\r\nHost: $H\r\nConnection: close\r\n\r\n", 400},
    {"a hidden end in an id", "GET /api/file?id=chest%00../x HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 422},
    {"an id with a path", "GET /api/file?id=..%2fsecret HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 422},
    {"an absolute id", "GET /api/file?id=%2fetc%2fpasswd HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 422},
    {"an id of a hidden file", "GET /api/file?id=.drafts HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 422},
    {"an id that is no UTF-8", "GET /api/file?id=%ff%fe HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 422},
    {"no such place", "GET /api/nothing HTTP/1.1\r\nHost: $H\r\nX-Page-Token: $T\r\nConnection: close\r\n\r\n", 404},
    {"no HTTP at all", "EHLO there\r\n\r\n", -1},
};

static void test_refuses(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        const int got = ask_form(refused[i].form);
        const bool right = refused[i].wanted == -1 ? got == 0 || (got >= 400 && got < 500) : got == refused[i].wanted;
        if (!right)
            fail_msg("%s: wanted %d, got %d: %s", refused[i].name, refused[i].wanted, got, site.answer);
        assert_null(strstr(site.answer, "root:"));
        assert_null(strstr(site.answer, "quillhaven"));
    }
    assert_false(holds("x.json", "")); /* none of them wrote anything */
    expect_alive();
}

/* A link that leads out of the folder is a file of the folder to the maker who put it there; but nothing is written through it: saving renames. */
/* The bench names plans by their marks, from which paths are made: nothing but a mark passes. Changes need the same as any other: see test_refuses. */
static void test_the_bench_takes_no_paths(void **state)
{
    static const char *const asked[] = {"/api/bench/packet?plan=..%2f..%2fsecret", "/api/bench/packet?plan=", "/api/bench/look?plan=%2fetc%2fpasswd", "/api/bench/look?plan=A%00B"};
    static const char *const changes[] = {
        "/api/bench/mark?plan=..%2fchest&what=cut&target=A", "/api/bench/mark?plan=ABCDEF&what=burned&target=A", "/api/bench/mark?plan=ABCDEF&what=cut&target=%01",
        "/api/bench/mark?plan=ABCDEF&what=damaged&target=S1&edge=left&depth=-1", "/api/bench/undo?plan=a%2fb", "/api/bench/back?plan=..&number=1", "/api/bench/post?plan=..",
        "/api/bench/plan?id=..%2fx", "/api/bench/plan?id=chest&plan=..%2fx", "/api/bench/file", "/api/bench/measure?set=cases%5b0%5d.opening.width=wide"};
    (void)state;
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
        assert_int_equal(get(asked[i]), 422);
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++)
        assert_int_equal(post(changes[i], strstr(changes[i], "measure") != NULL ? JOB : "{}"), 422);
    assert_int_equal(get("/api/bench/packet?plan=ABCDEF"), 500);
    assert_int_equal(post("/api/bench/undo?plan=ABCDEF", "{}"), 409);
    assert_int_equal(post("/api/bench/enter?run=999999", "{}"), 409);
    assert_int_equal(get("/api/bench/mark?plan=ABCDEF&what=cut&target=A"), 405); /* nothing is changed by a link */
    assert_int_equal(get("/api/bench?id=chest&units=in"), 200);
    assert_non_null(strstr(site.answer, "\"plan\": null"));
    expect_alive();
}

static void test_a_link_is_replaced_not_followed(void **state)
{
    (void)state;
    char target[128];
    char link[128];
    char version[32] = "";
    char path[128];
    (void)snprintf(target, sizeof target, "%s/secret.json", site.outside);
    (void)snprintf(link, sizeof link, "%s/linked.json", site.folder);
    assert_int_equal(symlink(target, link), 0);
    assert_int_equal(get("/api/file?id=linked"), 200);
    assert_int_equal(sscanf(strstr(site.answer, "\"version\""), "\"version\": \"%31[0-9a-f]\"", version), 1);
    (void)snprintf(path, sizeof path, "/api/save?id=linked&version=%s", version);
    (void)post(path, "{\"mine\": 1}");
    FILE *file = fopen(target, "r");
    assert_non_null(file);
    char bytes[64] = "";
    assert_true(fread(bytes, 1, sizeof bytes - 1, file) > 0);
    (void)fclose(file);
    assert_string_equal(bytes, "{\"word\": \"quillhaven\"}");
}

static void test_bodies_that_are_no_jobs(void **state)
{
    (void)state;
    static const char *const bodies[] = {"", "{", "[]", "null", "\"job\"", "{\"cases\": 7}", "{\"format\": 99}", "\xff\xfe{}", "{\"cases\": [{\"banks\": [{\"drawers\": 1e400}]}]}"};
    for (size_t i = 0; i < sizeof bodies / sizeof *bodies; i++) {
        const int status = post("/api/size", bodies[i]);
        assert_true(status == 200 || status == 422);
        assert_non_null(strstr(site.answer, "\"grade\": \"error\""));
    }
    char deep[2001];
    memset(deep, '[', sizeof deep - 1);
    deep[sizeof deep - 1] = '\0';
    assert_int_equal(post("/api/size", deep), 200);
    assert_non_null(strstr(site.answer, "\"grade\": \"error\""));
    expect_alive();
}

/* ---- more than a server likes --------------------------------------------------------------------------------------------- */

static void test_a_body_longer_than_it_said(void **state)
{
    (void)state;
    const int line = dial();
    char request[1024];
    const size_t length = fill("POST /api/size HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 2\r\n\r\n{}", request);
    assert_true(say(line, request, length));
    char *more = calloc(1, 65536);
    assert_non_null(more);
    memset(more, 'x', 65536);
    for (int i = 0; i < HUGE / 65536 && say(line, more, 65536); i++)
        continue;
    free(more);
    (void)hear(line);
    (void)close(line);
    expect_alive();
}

static void test_headers_without_end(void **state)
{
    (void)state;
    const int line = dial();
    char request[256];
    (void)say(line, request, fill("GET / HTTP/1.1\r\nHost: $H\r\n", request));
    for (int i = 0; i < 4000; i++) {
        char header[128];
        const int length = snprintf(header, sizeof header, "X-%d: %0100d\r\n", i, i);
        if (!say(line, header, (size_t)length))
            break;
    }
    const int status = hear(line);
    assert_true(status == 0 || (status >= 400 && status < 500));
    (void)close(line);
    expect_alive();
}

static void test_a_slow_client_holds_nobody_up(void **state)
{
    (void)state;
    char request[1024];
    const size_t length = fill("POST /api/size HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 2\r\n\r\n{}", request);
    const int line = dial();
    for (size_t i = 0; i < length; i++) {
        assert_true(say(line, request + i, 1));
        if (i % 50 == 0)
            expect_alive();
    }
    assert_int_equal(hear(line), 200);
    (void)close(line);
}

static void test_a_crowd_of_connections(void **state)
{
    (void)state;
    int lines[CROWD];
    for (int i = 0; i < CROWD; i++) {
        lines[i] = dial();
        if (i % 2 == 0) /* half of them begin to speak */
            assert_true(say(lines[i], "GET / HTTP/1.1\r\n", 16));
    }
    expect_alive(); /* while they all hold on */
    for (int i = 0; i < CROWD; i++)
        (void)close(lines[i]);
    expect_alive();
}

static void test_hung_up_upon(void **state)
{
    (void)state;
    char request[2048];
    const size_t length = fill("POST /api/size HTTP/1.1\r\nHost: $H\r\n" OURS "Content-Length: 2000\r\n\r\n{\"cases\": [", request);
    for (size_t cut = 1; cut <= length; cut += 7) {
        const int line = dial();
        (void)say(line, request, cut);
        (void)close(line);
    }
    expect_alive();
}

static void test_a_storm_of_plans(void **state)
{
    (void)state;
    long long last = 0;
    char path[64];
    for (int i = 0; i < STORM; i++) {
        last = start_plan("&patience=lunch");
        (void)snprintf(path, sizeof path, "/api/stop?run=%lld", i % 3 == 0 ? last : last - 1);
        assert_int_equal(post(path, "{}"), 200);
    }
    expect_alive();
    (void)snprintf(path, sizeof path, "/api/stop?run=%lld", last);
    assert_int_equal(post(path, "{}"), 200);
    last = start_plan("&patience=short"); /* and after all that, one is made */
    wait_for_plan(last);
    assert_non_null(strstr(site.answer, "\"state\": \"done\""));
    (void)start_plan("&patience=lunch"); /* left running: stopping the server stops it */
}

/* A job that keeps the search going: so many cases of ten drawers, no two alike. Twenty of them keep it going for long. */
static char *large_job(int cases)
{
    char *job = calloc(1, ROOM);
    assert_non_null(job);
    size_t length = (size_t)sprintf(job, "{\"format\": 1, \"name\": \"Many\", \"units\": \"in\", \"shop\": \"shop.json\", \"cases\": [");
    for (int i = 0; i < cases; i++)
        length += (size_t)sprintf(job + length,
                                  "%s{\"fit\": \"inset\", \"slide\": \"side\", \"opening\": {\"width\": \"%d\", \"height\": \"60\", \"depth\": \"22\"}, "
                                  "\"front\": {\"material\": \"cherry-3/4\"}, \"box\": {\"sides\": \"birch-1/2\", \"bottom\": \"birch-1/4\"}, \"banks\": [{\"drawers\": 10}]}",
                                  i == 0 ? "" : ", ", 18 + i);
    (void)strcpy(job + length, "]}");
    return job;
}

static long long number_after(const char *key)
{
    long long number = -1;
    const char *at = strstr(site.answer, key);
    assert_non_null(at);
    assert_int_equal(sscanf(at + strlen(key), "%lld", &number), 1);
    return number;
}

/* Better sheets are told as they come, each once; and a search that is stopped before it came as far as the plan that it goes on from keeps that plan. */
static void test_sheets_on_the_way(void **state)
{
    (void)state;
    char *job = large_job(8);
    char path[96];
    assert_int_equal(post("/api/plan?id=many&patience=short", job), 202);
    const long long quick = number_after("\"run\": ");
    long long seen = 0;
    (void)snprintf(path, sizeof path, "/api/plan?run=%lld", quick);
    for (int i = 0; seen == 0 && i < 3000; i++) {
        assert_int_equal(get(path), 200);
        assert_non_null(strstr(site.answer, "\"state\": \"working\"")); /* drawn long before the plan is whole */
        seen = strstr(site.answer, "\"serial\": ") == NULL ? 0 : number_after("\"serial\": ");
        pause_shortly();
    }
    assert_non_null(strstr(site.answer, "\"svg\": \"<"));
    const long long told = seen;
    (void)snprintf(path, sizeof path, "/api/plan?run=%lld&seen=%lld", quick, told);
    assert_int_equal(get(path), 200);
    assert_true(strstr(site.answer, "\"serial\": ") == NULL || number_after("\"serial\": ") > told);
    wait_for_plan(quick);
    const long long cost = number_after("\"sheets_cost\": ");
    (void)snprintf(path, sizeof path, "/api/plan?id=many&patience=lunch&after=%lld", quick);
    assert_int_equal(post(path, job), 202);
    const long long patient = number_after("\"run\": ");
    (void)snprintf(path, sizeof path, "/api/stop?run=%lld", patient);
    assert_int_equal(post(path, "{}"), 200);
    wait_for_plan(patient);
    assert_non_null(strstr(site.answer, "\"state\": \"done\""));
    assert_true(number_after("\"sheets_cost\": ") <= cost);
    (void)snprintf(path, sizeof path, "/api/packet?run=%lld&paper=a4", patient);
    assert_int_equal(get(path), 200);
    assert_non_null(strstr(site.answer, "%PDF-"));
    free(job);
}

static void pause_for(time_t seconds)
{
    const struct timespec time = {.tv_sec = seconds};
    (void)nanosleep(&time, NULL);
}

/* A closed page asks no more. While it asks the search goes on; when it does not, the search ends by itself, long before the patience does. */
static void test_a_closed_page_stops_its_search(void **state)
{
    (void)state;
    struct dw_page *page = NULL;
    const struct dw_page_options options = {.folder = site.folder, .forgotten_seconds = 1};
    const struct site before = site;
    assert_int_equal(dw_page_start(&options, site.faults, &page), DW_DONE);
    assert_int_equal(sscanf(dw_page_address(page), "http://127.0.0.1:%u/#%39s", &site.port, site.token), 2);
    char *job = large_job(20);
    char path[64];
    long long run = 0;
    assert_int_equal(post("/api/plan?id=many&patience=lunch", job), 202);
    assert_int_equal(sscanf(strstr(site.answer, "{\"run\""), "{\"run\": %lld", &run), 1);
    (void)snprintf(path, sizeof path, "/api/plan?run=%lld", run);
    for (int i = 0; i < 100; i++) {
        assert_int_equal(get(path), 200);
        assert_non_null(strstr(site.answer, "\"state\": \"working\""));
        pause_shortly();
    }
    for (int i = 0; i < 60 && strstr(site.answer, "\"state\": \"working\"") != NULL; i++) { /* three minutes, for a machine that has much else to do */
        pause_for(3); /* longer than it takes to be forgotten, so that this question does not keep it alive */
        assert_int_equal(get(path), 200);
    }
    assert_non_null(strstr(site.answer, "\"state\": \"done\""));
    assert_non_null(strstr(site.answer, "\"stopped\": true"));
    free(job);
    dw_page_stop(page);
    site = before;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_serves_the_page_with_its_headers),
        cmocka_unit_test(test_saves_over_the_version_it_knows_only),
        cmocka_unit_test(test_plans_and_posts),
        cmocka_unit_test(test_refuses),
        cmocka_unit_test(test_the_bench_takes_no_paths),
        cmocka_unit_test(test_a_link_is_replaced_not_followed),
        cmocka_unit_test(test_bodies_that_are_no_jobs),
        cmocka_unit_test(test_a_body_longer_than_it_said),
        cmocka_unit_test(test_headers_without_end),
        cmocka_unit_test(test_a_slow_client_holds_nobody_up),
        cmocka_unit_test(test_a_crowd_of_connections),
        cmocka_unit_test(test_hung_up_upon),
        cmocka_unit_test(test_a_storm_of_plans),
        cmocka_unit_test(test_sheets_on_the_way),
        cmocka_unit_test(test_a_closed_page_stops_its_search),
    };
    return cmocka_run_group_tests(tests, start, stop);
}
