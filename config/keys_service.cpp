// Keys of the guard, of the log and of the black box.
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
}

}  // namespace tripline::config
