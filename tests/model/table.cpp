// Writes the transition function of the station as a table that the model includes, so that
// the model walks the very rules the station runs by. Arguments: the two files to write.
#include "daemon/station/names.h"
#include "tests/station/conditions.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <string>

namespace tripline::station::test {
namespace {

std::string upper(std::string_view word) {
    std::string upper{word};
    std::transform(upper.begin(), upper.end(), upper.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    return upper;
}

/// State in bits 0 to 3, lock in 4 and 5, reason in 6 to 9.
unsigned packed(const Step& step) {
    const Lock lock = step.standing.lock;
    return static_cast<unsigned>(step.standing.state) | (lock.quiet ? 16U : 0U) |
           (lock.command ? 32U : 0U) | static_cast<unsigned>(step.reason) << 6;
}

/// Indexed [state][lock][mode][conditions], in the order of tests/station/conditions.h.
void write_table(std::ostream& out) {
    out << "static const unsigned short station_next[] = {\n";
    for_each_standing([&](Standing now) {
        for_each_conditions([&](const Conditions& c) { out << packed(next(now, c)) << ','; });
        out << '\n';
    });
    out << "};\nstatic const unsigned char station_lines[] = {";
    for (const State state : all_states) {
        const Lines lines = lines_of(state);
        out << int{lines.ptt} + 2 * int{lines.mute} + 4 * int{lines.antenna} << ',';
    }
    out << "};\n";
}

void write_names(std::ostream& out) {
    for (const State state : all_states)
        out << "#define " << upper(name(state)) << ' ' << static_cast<int>(state) << '\n';
    for (const Mode mode : all_modes)
        out << "#define MODE_" << upper(name(mode)) << ' ' << static_cast<int>(mode) << '\n';
    for (const Reason reason : {Reason::too_long, Reason::steady_tone})
        out << "#define REASON_" << upper(name(reason)) << ' ' << static_cast<int>(reason) << '\n';
}

}  // namespace
}  // namespace tripline::station::test

int main(int argc, char** argv) {
    if (argc != 3) {
        std::cerr << "usage: station_table TABLE.h NAMES.pml\n";
        return EXIT_FAILURE;
    }
    std::ofstream table(argv[1]);
    std::ofstream names(argv[2]);
    tripline::station::test::write_table(table);
    tripline::station::test::write_names(names);
    table.flush();
    names.flush();
    return table && names ? EXIT_SUCCESS : EXIT_FAILURE;
}
