// watch
#include "daemon/cli/commands.h"
#include "daemon/cli/desk_options.h"
#include "daemon/control/link.h"
#include "daemon/watch/picture.h"
#include "daemon/watch/screen.h"

#include <CLI/CLI.hpp>

#include <unistd.h>

#include <csignal>
#include <iostream>
#include <memory>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct WatchOptions {
    DeskOptions desk;
    bool plain = false;
};

volatile std::sig_atomic_t leaving = 0;
void leave(int) { leaving = 1; }

Duration now() { return std::chrono::steady_clock::now().time_since_epoch(); }

/// In one piece; what a terminal does not take is of no use later.
void send(const std::string& text) {
    if (!text.empty() && ::write(STDOUT_FILENO, text.data(), text.size()) < 0) leaving = 1;
}

/// Tells `show` of what is seen, so often; asks for the status once a second.
template <class Show>
void follow(control::Link& link, Duration every, Show show) {
    for (const char* wanted : {R"({"do":"levels"})", R"({"do":"events"})"}) link.say(wanted);
    watch::Seen seen;
    constexpr Duration lost_after = 3s;  // each second a status is asked for
    Duration shown{0}, asked{0}, heard = now();
    while (leaving == 0) {
        if (now() - asked >= 1s) {
            asked = now();
            link.say(R"({"do":"status"})");
        }
        if (const auto line = link.hear(100ms)) {
            take(seen, *line);
            heard = now();
        } else if (now() - heard > lost_after) {
            lose(seen);
        }
        if (now() - shown < every || !watch::worth_showing(seen)) continue;
        shown = now();
        show(seen);
    }
}

/// A line each second, and at once when the headline or the events say something new.
void follow_plainly(control::Link& link) {
    std::string head;
    unsigned events = 0;
    Duration said{0};
    follow(link, 100ms, [&](const watch::Seen& seen) {
        const std::string first = headline(seen).substr(0, 10);
        if (first == head && seen.events == events && now() - said < 1s) return;
        for (unsigned fresh = std::min<unsigned>(seen.events - events, static_cast<unsigned>(seen.told.size())); fresh > 0; --fresh) {
            std::cout << seen.told[seen.told.size() - fresh] << '\n';
        }
        head = first;
        events = seen.events;
        said = now();
        if (!(std::cout << plain_line(seen) << std::endl)) leaving = 1;
    });
}

void follow_on_screen(control::Link& link) {
    watch::Picture picture;
    watch::Screen screen;
    send(watch::Screen::enter());
    try {
        follow(link, 100ms, [&](const watch::Seen& seen) { send(screen.show(picture(seen, now()))); });
    } catch (...) {
        send(watch::Screen::leave());
        throw;
    }
    send(watch::Screen::leave());
}

ExitCode watch_station(const WatchOptions& options) {
    control::Link link(options.desk.socket);
    for (const int number : {SIGINT, SIGTERM, SIGHUP}) std::signal(number, leave);
    std::signal(SIGPIPE, SIG_IGN);
    if (options.plain || ::isatty(STDOUT_FILENO) == 0) follow_plainly(link);
    else follow_on_screen(link);
    return ExitCode::good;
}

}  // namespace

void add_watch(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("watch", "Watch a running station: levels, state, and why");
    const auto options = std::make_shared<WatchOptions>();
    add_desk_options(*command, options->desk);
    command->add_flag("--plain", options->plain, "Lines of text, for a pipe or a screen reader; the default of a pipe");
    command->callback([options, &outcome] {
        locate(options->desk);
        outcome = watch_station(*options);
    });
}

}  // namespace tripline::cli
