// Keys of the guard, of the log, of the black box and of the desk.
#include "config/section.h"

namespace tripline::config {
namespace {

void add_black_box(Catalogue& catalogue) {
    Section box(catalogue, "black_box", Touches::engine, "The last minutes, written when something went wrong.");
    box.number(
        "keep_s", {0, 3600}, [](auto& s) -> auto& { return s.black_box.length; },
        "So much of both channels is kept in memory: 23 MB a minute at 48 kHz.", "0: no black box.");
    box.text(
        "folder", [](auto& s) -> auto& { return s.black_box.folder; }, "Where captures are written.",
        "Empty: the folder captures in the service's state folder, /var/lib/tripline, if the service "
        "manager made one; else there is no black box.");
    box.whole(
        "budget_mb", {1, 1000000}, [](auto& s) -> auto& { return s.black_box.budget_mb; },
        "All captures together; the oldest are deleted to make room.",
        "One capture of 4 minutes at 48 kHz needs up to 93 MB.");
}

void add_control(Catalogue& catalogue) {
    Section control(catalogue, "control", Touches::daemon, "Seeing and steering a running station.");
    control.text(
        "socket", [](auto& s) -> auto& { return s.control.socket; },
        "Path of the control socket.",
        "Empty: control.sock in the service's runtime folder, /run/tripline, if the service manager "
        "made one. none: no socket.");
}

void add_logbook(Catalogue& catalogue) {
    Section logbook(catalogue, "logbook", Touches::daemon, "The station's log of overs.");
    logbook.text(
        "file", [](auto& s) -> auto& { return s.logbook.file; }, "Where each over is written, a line of JSON.",
        "Empty: overs.jsonl in the service's state folder, /var/lib/tripline, if the service manager "
        "made one. none: no log.");
    logbook.number(
        "identify_every_s", {0, 3600}, [](auto& s) -> auto& { return s.logbook.identify_every; },
        "Reminds the operator to identify the station after this long of operation.",
        "0: never. The default is the 10 minutes of 47 CFR 97.119(a); local rules govern.");
    logbook.boolean(
        "identify_tone", [](auto& s) -> auto& { return s.logbook.identify_tone; },
        "The reminder is also a soft tone in the loudspeaker, never on the air.",
        "Needs audio.loudspeaker_channel.");
}

void add_web(Catalogue& catalogue) {
    Section web(catalogue, "web", Touches::daemon, "The page that the daemon serves.");
    web.whole(
        "port", {0, 65535}, [](auto& s) -> auto& { return s.web.port; }, "Port of the page; 0: no page.",
        "Ports under 1024 are not for this daemon.");
    web.text(
        "address", [](auto& s) -> auto& { return s.web.address; }, "Address it is served at.",
        "An address beyond this computer (not 127.0.0.1 or ::1) needs token_file, and TLS in front: "
        "see the manual.");
    web.text(
        "name", [](auto& s) -> auto& { return s.web.name; },
        "Host name that the page is also reached by, when a proxy stands in front.");
    web.text(
        "token_file", [](auto& s) -> auto& { return s.web.token_file; },
        "File that holds the token, for all that changes the station.",
        "Empty: a new token at each start; tripline page prints it.");
    web.boolean(
        "may_transmit", [](auto& s) -> auto& { return s.web.may_transmit; },
        "The page may force the key.", "The voice keys, and the page can always release, without it.");
}
}  // namespace

void add_service_keys(Catalogue& catalogue) {
    Section guard(catalogue, "guard", Touches::guard,
                  "The small process that alone holds the lines.");
    guard.number(
        "margin_s", {0.5, 60}, [](auto& s) -> auto& { return s.guard.margin; },
        "The guard releases by itself this long after limits.longest_over_s.");

    Section log(catalogue, "log", Touches::log, "What is logged.");
    log.choice(
        "level", [](auto& s) -> auto& { return s.log.level; },
        {{"error", LogLevel::error},
         {"warning", LogLevel::warning},
         {"info", LogLevel::info},
         {"debug", LogLevel::debug}},
        "The least weighty messages that are logged.");

    add_black_box(catalogue);
    add_control(catalogue);
    add_logbook(catalogue);
    add_web(catalogue);
}

}  // namespace tripline::config
