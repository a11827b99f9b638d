/* server.c - the page's server: the only file that knows libmicrohttpd.
 *
 * One internal thread polls; its handlers never wait (planning is the worker's). For each request: headers first, then the guard (guard.h) before a byte
 * of a body is taken, then the body counted as it comes, then the answer. Every answer carries the headers that keep other sites out. The rules are those
 * of OWASP's cheat sheets on cross-site request forgery and content security policy (from memory).
 */
#include <drawerwright/page.h>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/random.h>
#include <unistd.h>

#include <microhttpd.h>

#include <drawerwright/memory.h>

#include "api.h"
#include "guard.h"
#include "worker.h"

enum { TOKEN_BYTES = 16, CONNECTIONS_MOST = 256, IDLE_SECONDS = 30 };

struct dw_page {
    struct MHD_Daemon *daemon;
    struct dwi_worker *worker;
    struct dwi_worker *bench;
    char *folder;
    char *job;
    char token[2 * TOKEN_BYTES + 1];
    char address[128];
    struct dwi_door door;
};

/* What is kept of a request between calls of its handler. */
struct request {
    struct dw_arena *arena;
    struct dw_faults *faults;
    int refused; /* HTTP status; 0: passed the guard */
    char *body;
    size_t length, room;
};

/* ---- what a request says ------------------------------------------------------------------------------------ */

struct headers {
    struct dwi_asked *asked;
    int hosts, origins, types, lengths, tokens;
};

static enum MHD_Result see_header(void *context, enum MHD_ValueKind kind, const char *key, const char *value)
{
    struct headers *headers = context;
    struct dwi_asked *asked = headers->asked;
    (void)kind;
    const struct {
        const char *name;
        const char **place;
        int *count;
    } known[] = {{"Host", &asked->host, &headers->hosts},
                 {"Origin", &asked->origin, &headers->origins},
                 {"Content-Type", &asked->content_type, &headers->types},
                 {"Content-Length", &asked->content_length, &headers->lengths},
                 {"X-Page-Token", &asked->token, &headers->tokens}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcasecmp(key, known[i].name) == 0) {
            *known[i].place = value == NULL ? "" : value;
            if (++*known[i].count > 1)
                asked->doubled = true;
        }
    if (strcasecmp(key, "Transfer-Encoding") == 0)
        asked->chunked = true;
    return MHD_YES;
}

static int guard(const struct dw_page *page, struct MHD_Connection *connection, const char *method, const char *path)
{
    struct dwi_asked asked = {.method = method, .path = path};
    struct headers headers = {.asked = &asked};
    (void)MHD_get_connection_values(connection, MHD_HEADER_KIND, see_header, &headers);
    return dwi_guard(&page->door, &asked);
}

static const char *argument(void *context, const char *key)
{
    return MHD_lookup_connection_value(context, MHD_GET_ARGUMENT_KIND, key);
}

/* ---- answers ------------------------------------------------------------------------------------------------- */

static enum MHD_Result send_answer(struct MHD_Connection *connection, const struct dwi_answer *answer)
{
    static const char *const fixed[][2] = {
        {"Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
                                    "frame-ancestors 'none'; base-uri 'none'; form-action 'none'"},
        {"X-Content-Type-Options", "nosniff"},
        {"Cache-Control", "no-store"},
        {"Referrer-Policy", "no-referrer"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
        {"Cross-Origin-Opener-Policy", "same-origin"},
    };
    struct MHD_Response *response =
        MHD_create_response_from_buffer(answer->length, (void *)(uintptr_t)answer->bytes, MHD_RESPMEM_MUST_COPY);
    if (response == NULL)
        return MHD_NO;
    (void)MHD_add_response_header(response, "Content-Type", answer->type);
    for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++)
        (void)MHD_add_response_header(response, fixed[i][0], fixed[i][1]);
    const enum MHD_Result queued = MHD_queue_response(connection, (unsigned)answer->status, response);
    MHD_destroy_response(response);
    return queued;
}

static enum MHD_Result refuse(struct MHD_Connection *connection, int status)
{
    static const char words[] = "not allowed\n";
    const struct dwi_answer answer = {.status = status, .type = "text/plain; charset=utf-8", .bytes = words, .length = sizeof words - 1};
    return send_answer(connection, &answer);
}

struct answering {
    const struct dwi_ask *ask;
    struct dw_arena *arena;
    struct dwi_answer answer;
};

static void answer_body(void *context)
{
    struct answering *answering = context;
    answering->answer = dwi_api(answering->ask, answering->arena);
}

static enum MHD_Result answer_request(const struct dw_page *page, struct request *request, struct MHD_Connection *connection, const char *method,
                                      const char *path)
{
    const struct dwi_ask ask = {.folder = page->folder,
                                .first_job = page->job,
                                .worker = page->worker,
                                .bench = page->bench,
                                .faults = request->faults,
                                .method = method,
                                .path = path,
                                .argument = argument,
                                .context = connection,
                                .body = request->body == NULL ? "" : request->body,
                                .body_length = request->length};
    struct answering answering = {.ask = &ask, .arena = request->arena};
    if (!dw_arena_guard(request->arena, answer_body, &answering))
        return refuse(connection, MHD_HTTP_INSUFFICIENT_STORAGE);
    return send_answer(connection, &answering.answer);
}

/* ---- the handler --------------------------------------------------------------------------------------------- */

static struct request *new_request(void)
{
    struct request *request = calloc(1, sizeof *request);
    if (request == NULL)
        return NULL;
    request->arena = dw_arena_new();
    request->faults = dw_faults_new();
    if (request->arena == NULL || request->faults == NULL) {
        dw_arena_free(request->arena);
        dw_faults_free(request->faults);
        free(request);
        return NULL;
    }
    return request;
}

static void on_completed(void *context, struct MHD_Connection *connection, void **state, enum MHD_RequestTerminationCode how)
{
    struct request *request = *state;
    (void)context;
    (void)connection;
    (void)how;
    if (request == NULL)
        return;
    dw_arena_free(request->arena);
    dw_faults_free(request->faults);
    free(request->body);
    free(request);
    *state = NULL;
}

/* Takes more of a body; false when it grows past what was allowed or memory runs out. */
static bool take_body(struct request *request, const char *bytes, size_t length)
{
    if (request->length + length > DWI_BODY_MOST)
        return false;
    if (request->length + length + 1 > request->room) {
        const size_t room = 2 * (request->length + length + 1);
        char *wider = realloc(request->body, room);
        if (wider == NULL)
            return false;
        request->body = wider;
        request->room = room;
    }
    memcpy(request->body + request->length, bytes, length);
    request->length += length;
    request->body[request->length] = '\0';
    return true;
}

static enum MHD_Result on_request(void *context, struct MHD_Connection *connection, const char *path, const char *method, const char *version,
                                  const char *upload, size_t *upload_size, void **state)
{
    const struct dw_page *page = context;
    struct request *request = *state;
    (void)version;
    if (request == NULL) { /* headers only */
        request = new_request();
        *state = request;
        if (request == NULL)
            return MHD_NO;
        request->refused = guard(page, connection, method, path);
        return request->refused != 0 ? refuse(connection, request->refused) : MHD_YES;
    }
    if (*upload_size != 0) {
        if (request->refused == 0 && !take_body(request, upload, *upload_size))
            request->refused = MHD_HTTP_CONTENT_TOO_LARGE;
        *upload_size = 0;
        return MHD_YES;
    }
    return request->refused != 0 ? refuse(connection, request->refused) : answer_request(page, request, connection, method, path);
}

/* A %00 in an address would end it early, and hide what follows from the guard: it becomes a control character, which is refused everywhere. */
static size_t unescape(void *context, struct MHD_Connection *connection, char *text)
{
    (void)context;
    (void)connection;
    for (char *nul = text; (nul = strstr(nul, "%00")) != NULL; nul += 3)
        nul[2] = '1';
    return MHD_http_unescape(text);
}

/* ---- starting and stopping ----------------------------------------------------------------------------------- */

static bool make_token(char *token)
{
    unsigned char bytes[TOKEN_BYTES];
    if (getrandom(bytes, sizeof bytes, 0) != (ssize_t)sizeof bytes)
        return false;
    for (size_t i = 0; i < sizeof bytes; i++)
        (void)snprintf(token + 2 * i, 3, "%02x", bytes[i]);
    return true;
}

static bool listen_on(struct dw_page *page, unsigned port)
{
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port), .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    page->daemon = MHD_start_daemon(MHD_USE_AUTO_INTERNAL_THREAD, (uint16_t)port, NULL, NULL, on_request, page, MHD_OPTION_SOCK_ADDR, &address,
                                    MHD_OPTION_NOTIFY_COMPLETED, on_completed, NULL, MHD_OPTION_CONNECTION_LIMIT, (unsigned)CONNECTIONS_MOST,
                                    MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_SECONDS, MHD_OPTION_STRICT_FOR_CLIENT, 1, MHD_OPTION_UNESCAPE_CALLBACK, unescape,
                                    NULL, MHD_OPTION_END);
    if (page->daemon == NULL)
        return false;
    const union MHD_DaemonInfo *info = MHD_get_daemon_info(page->daemon, MHD_DAEMON_INFO_BIND_PORT);
    page->door = (struct dwi_door){.port = info == NULL ? port : info->port, .token = page->token};
    (void)snprintf(page->address, sizeof page->address, "http://127.0.0.1:%u/#%s", page->door.port, page->token);
    return true;
}

enum dw_status dw_page_start(const struct dw_page_options *options, struct dw_faults *faults, struct dw_page **started)
{
    *started = NULL;
    struct dw_page *page = calloc(1, sizeof *page);
    if (page == NULL)
        return DW_SURROUNDINGS;
    page->folder = strdup(options->folder);
    page->job = strdup(options->job == NULL ? "" : options->job);
    if (page->folder != NULL) {
        page->worker = dwi_worker_new(page->folder, options->forgotten_seconds);
        page->bench = dwi_worker_new(page->folder, options->forgotten_seconds);
    }
    if (page->worker == NULL || page->bench == NULL || page->job == NULL || !make_token(page->token) || !listen_on(page, options->port)) {
        dw_error(faults, DW_SURROUNDINGS, "no-server", "", "the page cannot be served on this machine\nis the port taken? leave --port out to get a free one");
        dw_page_stop(page);
        return DW_SURROUNDINGS;
    }
    *started = page;
    return DW_DONE;
}

const char *dw_page_address(const struct dw_page *page)
{
    return page->address;
}

void dw_page_stop(struct dw_page *page)
{
    if (page == NULL)
        return;
    const MHD_socket listening = page->daemon == NULL ? MHD_INVALID_SOCKET : MHD_quiesce_daemon(page->daemon);
    dwi_worker_free(page->worker);
    dwi_worker_free(page->bench);
    if (page->daemon != NULL)
        MHD_stop_daemon(page->daemon);
    if (listening != MHD_INVALID_SOCKET)
        (void)close(listening);
    free(page->folder);
    free(page->job);
    free(page);
}
