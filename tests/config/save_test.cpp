// Settings written into a file that an operator wrote.
#include "config/edit.h"
#include "config/save.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

namespace tripline::config {
namespace {

TEST(AnEdit, ChangesTheValueAndNothingElse) {
    EXPECT_EQ(with_value("# mine\n[gate]\nhold_ms = 1500 # long\nopen_dbfs=-50\n", "gate.hold_ms", "2000"),
              "# mine\n[gate]\nhold_ms = 2000 # long\nopen_dbfs=-50\n");
    EXPECT_EQ(with_value("gate.hold_ms = 1500", "gate.hold_ms", "2000"), "gate.hold_ms = 2000");
    EXPECT_EQ(with_value("[gate]\nthreshold = \"fl#oat\" # ä\n", "gate.threshold", "\"fixed\""),
              "[gate]\nthreshold = \"fixed\" # ä\n");
    EXPECT_EQ(with_value("gate = { hold_ms = 1500, open_dbfs = -50 }\n", "gate.open_dbfs", "-40"),
              "gate = { hold_ms = 1500, open_dbfs = -40 }\n");
}

TEST(AnEdit, PutsANewKeyUnderItsTableOrANewTableAtTheEnd) {
    EXPECT_EQ(with_value("[gate] # ear\nhold_ms = 1500\n[log]\n", "gate.open_dbfs", "-40"),
              "[gate] # ear\nopen_dbfs = -40\nhold_ms = 1500\n[log]\n");
    EXPECT_EQ(with_value("[log]\nlevel = \"info\"", "gate.open_dbfs", "-40"),
              "[log]\nlevel = \"info\"\n\n[gate]\nopen_dbfs = -40\n");
}

TEST(AnEdit, PutsANewKeyBesideOneThatIsWrittenWithItsTablesName) {
    EXPECT_EQ(with_value("# found\ngate.open_dbfs = -53\nanti_trip.delay_ms = 3", "gate.hold_ms", "2000"),
              "# found\ngate.open_dbfs = -53\ngate.hold_ms = 2000\nanti_trip.delay_ms = 3\n");
    EXPECT_EQ(with_value("gate.open_dbfs = -53\nanti_trip.delay_ms = 3", "anti_trip.margin_db", "9"),
              "gate.open_dbfs = -53\nanti_trip.delay_ms = 3\nanti_trip.margin_db = 9\n");
    EXPECT_EQ(with_value("[line]\nptt.kind = \"file\"\n", "line.ptt.lead_ms", "20"), "[line]\nptt.kind = \"file\"\nptt.lead_ms = 20\n");
}

struct ASettingsFile : testing::Test {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("tripline-save-" + std::to_string(::getpid()));
    std::filesystem::path file = folder / "tripline.toml";

    void SetUp() override { std::filesystem::create_directory(folder); }
    void TearDown() override { std::filesystem::remove_all(folder); }
    void write(const std::string& text) const { std::ofstream(file) << text; }
    std::string text() const {
        std::ostringstream all;
        all << std::ifstream(file).rdbuf();
        return all.str();
    }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(folder), {}));
    }
};

TEST_F(ASettingsFile, KeepsItsCommentsAndItsMode) {
    write("# the grey transmitter\n[gate]\nhold_ms = 1500  # Marta's\n");
    ::chmod(file.c_str(), 0640);
    EXPECT_EQ(save(file, {"gate.hold_ms=1800", "anti_trip.enabled=false"}), "");
    EXPECT_EQ(text(), "# the grey transmitter\n[gate]\nhold_ms = 1800  # Marta's\n\n[anti_trip]\nenabled = false\n");
    struct stat there{};
    ASSERT_EQ(::stat(file.c_str(), &there), 0);
    EXPECT_EQ(there.st_mode & 0777U, 0640U);
    EXPECT_EQ(files(), 1U);
}

TEST_F(ASettingsFile, WithEverySettingTakesAnyOfThem) {
    write(std::string());
    EXPECT_EQ(save(file, {"gate.open_dbfs=-41.5", "gate.threshold=fixed"}), "");
    const Loaded loaded = load(file);
    EXPECT_TRUE(loaded.good());
    EXPECT_EQ(loaded.settings.station.detector.gate.open.value, -41.5);
}

TEST_F(ASettingsFile, WithKeysThatNameTheirTableTakesMoreOfThem) {
    write("gate.open_dbfs = -53\nanti_trip.delay_ms = 3\n[line.ptt]\nlead_ms = 20\n");
    EXPECT_EQ(save(file, {"gate.hold_ms=1800", "anti_trip.margin_db=9", "envelope.attack_ms=3"}), "");
    EXPECT_EQ(text().substr(0, 41), "gate.open_dbfs = -53\ngate.hold_ms = 1800\n");
}

TEST_F(ASettingsFile, StaysAsItIsWhenItOrTheSettingIsWrong) {
    write("[gate]\nhold_ms = nonsense\n");
    EXPECT_NE(save(file, {"gate.hold_ms=1800"}), "");
    EXPECT_EQ(text(), "[gate]\nhold_ms = nonsense\n");
    write("[gate]\nhold_ms = 1500\n");
    EXPECT_NE(save(file, {"gate.hold_ms=1"}), "");
    EXPECT_EQ(text(), "[gate]\nhold_ms = 1500\n");
    EXPECT_NE(save(folder / "missing.toml", {"gate.hold_ms=1800"}), "");
    EXPECT_EQ(files(), 1U);
}

TEST_F(ASettingsFile, BehindALinkIsChangedAndTheLinkStays) {
    write("[gate]\n");
    const auto link = folder / "link.toml";
    std::filesystem::create_symlink(file, link);
    EXPECT_EQ(save(link, {"gate.hold_ms=1800"}), "");
    EXPECT_TRUE(std::filesystem::is_symlink(link));
    EXPECT_EQ(text(), "[gate]\nhold_ms = 1800\n");
}

}  // namespace
}  // namespace tripline::config
