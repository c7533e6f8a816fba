// Who may know whom: dsp nobody, station dsp alone.
#include "tests/structure/source_tree.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

namespace tripline::structure {
namespace {

const std::set<std::string> code{".h", ".cpp"};

/// Standard headers that compute: no stream, file, thread, lock, clock or log comes with them.
/// <chrono> is in for its durations; a rule below forbids its clocks.
const std::set<std::string> computing_headers{
    "algorithm", "array",     "atomic",    "bit",       "bitset",   "chrono",  "cmath",   "compare",
    "complex",   "concepts",  "cstddef",   "cstdint",   "cstring",  "limits",  "memory",  "numbers",
    "numeric",   "optional",  "ratio",     "span",      "string_view", "tuple", "type_traits",
    "utility",   "variant",   "vector",    "xmmintrin.h", "stdexcept", "string", "cfenv", "functional"};

bool is_own(const std::string& include, const std::vector<std::string>& rooms) {
    return std::ranges::any_of(rooms, [&](const auto& room) { return include.starts_with(room); });
}

void expect_only(const std::string& folder, const std::vector<std::string>& rooms) {
    for (const auto& file : files_under({folder}, code)) {
        for (const auto& include : includes_of(file)) {
            EXPECT_TRUE(is_own(include, rooms) || computing_headers.contains(include))
                << file.path << " includes " << include;
        }
    }
}

void expect_no(const std::string& folder, const std::string& pattern) {
    const std::regex wanted(pattern);
    for (const auto& file : files_under({folder}, code)) {
        for (std::size_t i = 0; i < file.lines.size(); ++i) {
            EXPECT_FALSE(std::regex_search(file.lines[i], wanted))
                << file.path << ":" << i + 1 << ": " << file.lines[i];
        }
    }
}

const std::string reaches_outside = R"(_clock\b|::now\(|\bprintf\(|std::c(out|err|in)\b|\bgetenv\()";

TEST(TheDspRoom, LinksNothing) { EXPECT_STREQ(DSP_LINKS, ""); }

// kissfft is a header of arithmetic; nothing is linked for it.
TEST(TheDspRoom, IncludesOnlyItselfAndHeadersThatCompute) {
    expect_only("dsp", {"dsp/", "kissfft/kissfft.hh"});
}

TEST(TheDspRoom, AsksNoClockAndWritesNowhere) { expect_no("dsp", reaches_outside); }

TEST(TheStationRoom, LinksTheDspRoomAlone) {
#ifdef STATION_LINKS
    EXPECT_STREQ(STATION_LINKS, "tripline_dsp");
#else
    GTEST_SKIP() << "there is no target tripline_station";
#endif
}

TEST(TheStationRoom, IncludesOnlyItselfTheDspRoomAndStandardHeadersThatCompute) {
    expect_only("daemon/station", {"dsp/", "daemon/station/"});
}

TEST(TheStationRoom, AsksNoClockAndWritesNowhere) { expect_no("daemon/station", reaches_outside); }

TEST(TheRooms, OfTheLinesAndTheGuardKnowNeitherSoundNorLogNorFileFormats) {
    const std::regex heavy(R"(portaudio|sndfile|spdlog|toml|json|CLI/|daemon/(audio|service|replay)/)");
    for (const auto& file : files_under({"daemon/lines", "daemon/guard"}, code)) {
        for (const auto& include : includes_of(file)) {
            EXPECT_FALSE(std::regex_search(include, heavy)) << file.path << " includes " << include;
        }
    }
}

}  // namespace
}  // namespace tripline::structure
