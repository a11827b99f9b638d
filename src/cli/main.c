/* main.c - finds the command, lets it read its options, runs it, and makes sure that the answer was really written. */
#include "cli.h"

#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

const struct cli_command cli_commands[] = {
    {"new", "FILE", "a job file by a few questions", 1, 1, cmd_new},
    {"check", "JOB", "read a job, fill in the defaults, report every fault", 1, 1, cmd_check},
    {"size", "JOB", "fronts and boxes (--figuring shows the arithmetic)", 1, 1, cmd_size},
    {"sketch", "JOB", "front elevation and section of each case, into a file (-o)", 1, 1, cmd_sketch},
    {"parts", "JOB", "the parts list", 1, 1, cmd_parts},
    {"layout", "JOB...", "the sheets and the order of cuts", 1, CLI_MOST_FILES, cmd_layout},
    {"buy", "JOB...", "what to buy and what it costs", 1, CLI_MOST_FILES, cmd_buy},
    {"plan", "JOB...", "all of it, into a folder (-o DIR)", 1, CLI_MOST_FILES, cmd_plan},
    {"compare", "JOB... | PLAN PLAN", "the same with changes (--set), or what differs between two plans", 1, CLI_MOST_FILES, cmd_compare},
    {"page", "[JOB|FOLDER]", "draw and plan in the browser, on this machine only", 0, 1, cmd_page},
    {"rack", "list|add|take|labels|history|undo ...", "the offcuts that the shop owns", 1, 4, cmd_rack},
    {"post", "PLAN.json", "enter a plan in the rack: what it uses leaves, what it keeps comes in", 1, 1, cmd_post},
    {"done", "PLAN.json [NAME...]", "enter a plan; mark pieces as cut, or sheets (to --step N)", 1, CLI_MOST_FILES, cmd_done},
    {"spoiled", "PLAN.json NAME...", "mark pieces, panels or sheets as of no use", 2, CLI_MOST_FILES, cmd_spoiled},
    {"damaged", "PLAN.json NAME EDGE DEPTH", "an edge not to be used: left, right, bottom, top", 4, 4, cmd_damaged},
    {"measured", "PLAN.json NAME... THICKNESS", "how thick these sheets are, by the caliper", 3, CLI_MOST_FILES, cmd_measured},
    {"note", "PLAN.json NAME WORDS", "write something down, such as which face shows", 3, 3, cmd_note},
    {"undo", "PLAN.json", "take back the last mark", 1, 1, cmd_undo},
    {"state", "PLAN.json | MARK", "what is cut, what is left, and whether the plan still holds", 1, 1, cmd_state},
    {"replan", "PLAN.json JOB...", "plan again what is left, from what is left (-o DIR)", 2, CLI_MOST_FILES, cmd_replan},
    {"manual", "program|job|bash|zsh|fish", "the manual pages and completions, for those who install it", 1, 1, cmd_manual},
    {NULL, NULL, NULL, 0, 0, NULL},
};

static const struct cli_command *find_command(const char *name)
{
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        if (strcmp(command->name, name) == 0)
            return command;
    return NULL;
}

static enum dw_status run_command(const struct cli_command *command, int argc, char **argv)
{
    struct cli_options options;
    if (!cli_options_read(command, argc, argv, &options))
        return DW_INPUT;
    if (options.help) {
        cli_help(command);
        return DW_DONE;
    }
    return command->run(&options);
}

static enum dw_status run_program(int argc, char **argv)
{
    const char *word = argc > 1 ? argv[1] : "";
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || strcmp(word, "help") == 0) {
        cli_help(NULL);
        return DW_DONE;
    }
    if (strcmp(word, "--version") == 0) {
        printf("drawerwright %s\n", DW_VERSION);
        return DW_DONE;
    }
    const struct cli_command *command = find_command(word);
    if (command == NULL) {
        fprintf(stderr, "drawerwright: %s%s%s\n", word[0] == '\0' ? "a command is wanted" : "no command is called \"", word,
                word[0] == '\0' ? "" : "\"");
        fputs("Try: drawerwright --help\n", stderr);
        return DW_INPUT;
    }
    return run_command(command, argc - 2, argv + 2);
}

/* A reader that goes away and a file that may not grow are write errors, not the end of the process: what is half-written is taken back
 * then. A stream that the caller closed is opened in the direction in which it cannot be used, so that no file of ours gets its number and
 * an answer that has nowhere to go is an error, too. */
static void prepare(void)
{
    (void)signal(SIGPIPE, SIG_IGN);
    (void)signal(SIGXFSZ, SIG_IGN);
    for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; stream++)
        if (fcntl(stream, F_GETFD) == -1)
            (void)open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

int main(int argc, char **argv)
{
    prepare();
    enum dw_status status = run_program(argc, argv);
    const bool broken = ferror(stdout) != 0;
    if (fclose(stdout) != 0 || broken) {
        fputs("drawerwright: the answer could not be written out: is the disk full, or the reader gone?\n", stderr);
        if (status < DW_SURROUNDINGS)
            status = DW_SURROUNDINGS;
    }
    return (int)status;
}
