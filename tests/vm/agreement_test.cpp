// The live daemon on the real kernel keys each kind of wire when replay of the recording says so.
#include "tests/vm/trace.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>

namespace tripline::shack {
namespace {

/// Which wire plays which role in a configuration under guest/config.
struct Wiring {
    std::string name;
    Wire ptt, mute, antenna;
};

void PrintTo(const Wiring& wiring, std::ostream* out) { *out << wiring.name; }

struct Spell {
    double on = 0, off = 0;
};

/// Spells with the key closed, in seconds of the recording.
std::vector<Spell> spells_of_replay(const std::string& name) {
    std::ifstream in(results() + "/" + name + ".jsonl");
    std::vector<Spell> spells;
    bool keyed = false;
    for (std::string line; std::getline(in, line);) {
        const auto event = nlohmann::json::parse(line);
        if (event.at("ptt").get<bool>() == keyed) continue;
        keyed = !keyed;
        if (keyed) {
            spells.push_back({event.at("seconds"), 0});
        } else {
            spells.back().off = event.at("seconds");
        }
    }
    return spells;
}

std::vector<Spell> spells_of(Wire wire, double from, double to) {
    std::vector<Spell> spells;
    for (const auto& change : trace().between(wire, from, to)) {
        if (change.on) {
            spells.push_back({change.at, 0});
        } else if (!spells.empty()) {
            spells.back().off = change.at;
        }
    }
    return spells;
}

double median(std::vector<double> values) {
    std::ranges::sort(values);
    return values.at(values.size() / 2);
}

class TheDaemonOnAlsa : public testing::TestWithParam<Wiring> {
protected:
    void SetUp() override {
        start_ = trace().last("play " + GetParam().name);
        end_ = trace().last("played " + GetParam().name);
        ASSERT_TRUE(start_ && end_) << "the recording was not played";
    }
    double first_frame() const { return std::stod(trace().word_after("start " + GetParam().name)); }
    std::vector<Spell> seen(Wire wire) const { return spells_of(wire, *start_, *end_); }

    std::optional<double> start_, end_;
};

TEST_P(TheDaemonOnAlsa, KeysTheWireWhenReplaySays) {
    const auto expected = spells_of_replay(GetParam().name);
    const auto live = seen(GetParam().ptt);
    ASSERT_FALSE(expected.empty());
    ASSERT_EQ(live.size(), expected.size()) << "overs seen on the wire against overs of replay";
    std::vector<double> late;
    for (std::size_t i = 0; i < live.size(); ++i) {
        late.push_back(live[i].on - first_frame() - expected[i].on);
        late.push_back(live[i].off - first_frame() - expected[i].off);
    }
    std::printf("%s: %zu overs, edges late by %.1f ms (median), %.1f to %.1f ms\n", GetParam().name.c_str(),
                live.size(), median(late) * 1e3, *std::ranges::min_element(late) * 1e3,
                *std::ranges::max_element(late) * 1e3);
    EXPECT_LE(std::abs(median(late)), 0.020);
}

TEST_P(TheDaemonOnAlsa, MovesMuteAntennaAndKeyInOrder) {
    const auto key = seen(GetParam().ptt), mute = seen(GetParam().mute), antenna = seen(GetParam().antenna);
    ASSERT_FALSE(key.empty());
    ASSERT_EQ(mute.size(), key.size());
    ASSERT_EQ(antenna.size(), key.size());
    for (std::size_t i = 0; i < key.size(); ++i) {
        EXPECT_LT(mute[i].on, antenna[i].on);
        EXPECT_LT(antenna[i].on, key[i].on);
        EXPECT_LT(key[i].off, antenna[i].off);
        EXPECT_LT(antenna[i].off, mute[i].off);
    }
}

INSTANTIATE_TEST_SUITE_P(, TheDaemonOnAlsa,
                         testing::Values(Wiring{"key-on-gpio", Wire::gpio, Wire::rts, Wire::dongle},
                                         Wiring{"key-on-serial", Wire::rts, Wire::dtr, Wire::dongle},
                                         Wiring{"key-on-dongle", Wire::dongle, Wire::rts, Wire::dtr}),
                         [](const auto& chosen) {
                             std::string name = chosen.param.name;
                             std::ranges::replace(name, '-', '_');
                             return name;
                         });

}  // namespace
}  // namespace tripline::shack
