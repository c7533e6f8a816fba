// A map drawn in text: '.' good, a digit mistakes, a letter given up for that kind of mistake; the
// top line is the highest row.
#pragma once

#include "daemon/tune/map.h"

#include <string>
#include <vector>

namespace tripline::tune {

inline Map drawn(const std::vector<std::string>& lines) {
    Map map;
    map.across.key = "gate.open_dbfs";
    map.up.key = "anti_trip.coupling_db";
    for (std::size_t i = 0; i < lines.front().size(); ++i) map.across.values.push_back(-60 + 4 * static_cast<double>(i));
    for (std::size_t i = 0; i < lines.size(); ++i) map.up.values.push_back(-20 + 2 * static_cast<double>(i));
    for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
        for (const char c : *line) {
            using enum replay::MistakeKind;
            Trial trial;
            for (const auto kind : {missed, torn, false_key, held_on}) {
                if (c == replay::name(kind).front()) trial.given_up = kind;
            }
            if (c >= '0' && c <= '9') trial.score.missed = c - '0';
            map.cells.push_back(trial);
        }
    }
    return map;
}

}  // namespace tripline::tune
