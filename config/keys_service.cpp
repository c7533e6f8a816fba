// Keys of the guard and of the log.
#include "config/section.h"

namespace tripline::config {

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
}

}  // namespace tripline::config
