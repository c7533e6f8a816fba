#include "config/cross_checks.h"

#include "config/findings.h"

namespace tripline::config {

void cross_check(Loaded& loaded) {
    Findings found(loaded);
    for (const auto rule : {check_detector, check_station, check_sound, check_lines, check_page}) {
        rule(loaded.settings, found);
    }
}

}  // namespace tripline::config
