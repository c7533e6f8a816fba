// `tripline setup` as its operator has it: live sound through a clocked server, questions answered one by one.
#include "config/load.h"
#include "daemon/replay/span.h"
#include "tests/live/shack.h"
#include "tests/setup/session.h"

#include <gtest/gtest.h>
#include <poll.h>

#include <array>
#include <cstdio>
#include <string>

namespace tripline::live {
namespace {

using setup::Session;

class AGuidedSession : public testing::Test {
protected:
    /// Plays a stretch to the take that is now asked for, and keeps the take.
    void answer(int step, const replay::Span& stretch) {
        ASSERT_NE(guide_.hear("Step " + std::to_string(step), 10s), "");
        shack_.tell_card("play " + std::to_string(replay::to_seconds(stretch.begin)));
        ::poll(nullptr, 0, 500);   // what the server still holds of before is past by then
        guide_.say("");
        const std::string levels = guide_.hear("  microphone ", 40s);
        ASSERT_NE(levels, "") << "step " << step;
        std::printf("%d: %s\n", step, levels.c_str());
        guide_.say("");   // kept; with trouble it would be repeated, and the next step not asked for
    }
    /// The number after `words` in the next line that begins with `start`.
    double told(const std::string& start, const std::string& words) {
        const std::string line = guide_.hear(start, 60s);
        const auto at = line.find(words);
        return at == std::string::npos ? 1e9 : std::stod(line.substr(at + words.size()));
    }

    scene::Corpus corpus_{Hertz{48000}};
    Session session_{setup::known_station(), Decibels{6}, corpus_};
    Shack shack_{session_.source().file.string()};
    std::string found_{shack_.folder.path / "found.toml"};
    Child guide_{{TRIPLINE, "setup", "--config", shack_.config_file, "--write", found_}};
};

TEST_F(AGuidedSession, ThroughALiveSoundServerFindsWhatIsKnownOfTheStation) {
    const auto& stretches = session_.stretches();
    const std::array parts{stretches.room, *stretches.receiver, stretches.voice, *stretches.soft};
    for (int step = 0; step < 4; ++step) {
        answer(step + 1, parts[static_cast<std::size_t>(step)]);
        if (HasFatalFailure()) return;
    }
    EXPECT_NEAR(told("  room ", "room"), -28 - 34, 1);
    EXPECT_NEAR(told("  receiver at the microphone", "coupling"), -28 - 14 + 22, 1);
    EXPECT_NEAR(told("  its delay", "delay"), 23, 2);
    EXPECT_NEAR(told("  voice ", "voice"), -28, 1);   // each recording's own active level by ITU-T P.56
    ASSERT_NE(guide_.hear("The settings are in ", 60s), "");
    EXPECT_EQ(guide_.wait(10s), 0);
    EXPECT_TRUE(config::load(found_, {}).good());
}

}  // namespace
}  // namespace tripline::live
