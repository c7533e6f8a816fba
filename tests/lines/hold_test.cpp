// One holder a device, whatever the name it is opened by.
#include "daemon/lines/bank.h"
#include "daemon/lines/release.h"
#include "tests/lines/fake_hardware.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

namespace tripline::lines {
namespace {

struct TheHold : testing::Test {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("tripline-hold-" + std::to_string(::getpid()));
    std::string log = (folder / "log").string();
    void SetUp() override {
        plug_in_new_hardware();
        std::filesystem::create_directory(folder);
    }
    void TearDown() override { std::filesystem::remove_all(folder); }

    static LineSettings file(const std::string& path) { return {.kind = Kind::file, .device = path}; }
    static LineSettings dongle(const char* path, unsigned pin) {
        return {.kind = Kind::cm108, .device = path, .cm108_pin = pin};
    }
    static LineSettings serial() { return {.kind = Kind::serial, .device = fake_serial}; }
    static std::string refusal(const Wiring& wiring) {
        try {
            Bank bank(wiring);
        } catch (const OpenError& error) {
            EXPECT_EQ(error.error, EBUSY);
            return error.what();
        }
        return "opened";
    }
    long records() const {
        std::ifstream in(log);
        return std::count(std::istreambuf_iterator<char>(in), {}, '\n');
    }
};

TEST_F(TheHold, KeepsASecondBankFromADeviceOfEachKind) {
    const Wiring wiring{serial(), dongle(fake_dongle, 3), file(log), {}};
    Bank bank(wiring);
    for (const Role role : {Role::ptt, Role::mute, Role::antenna}) {
        Wiring second;
        second[index(role)] = wiring[index(role)];
        EXPECT_NE(refusal(second).find("stop that one first"), std::string::npos) << refusal(second);
    }
}

TEST_F(TheHold, KeepsASecondBankFromADongleUnderItsOtherName) {
    Bank bank({dongle(fake_dongle, 3), {}, {}, {}});
    const auto before = hardware().reports.size();
    EXPECT_NE(refusal({dongle(fake_dongle_link, 3), {}, {}, {}}), "opened");
    EXPECT_EQ(hardware().reports.size(), before) << "refused before anything is driven";
}

TEST_F(TheHold, EndsWithTheBank) {
    const Wiring wiring{serial(), dongle(fake_dongle, 3), file(log), {}};
    { Bank bank(wiring); }
    EXPECT_NO_THROW(Bank{wiring});
}

TEST_F(TheHold, SaysWhichProcessHasIt) {
    Bank bank({file(log), {}, {}, {}});
    std::string own;   // of an emulator, where one runs this
    std::getline(std::ifstream("/proc/self/comm"), own);
    EXPECT_NE(refusal({file(log), {}, {}, {}}).find("held by process " + std::to_string(::getpid()) + " (" + own + ")"),
              std::string::npos)
        << refusal({file(log), {}, {}, {}});
}

TEST_F(TheHold, KeepsTheReleaseFromALineThatAGuardHolds) {
    Bank bank({dongle(fake_dongle, 3), {}, {}, {}});
    ASSERT_TRUE(bank[Role::ptt].set(true));
    const auto released = release_all(wires_of({dongle(fake_dongle_link, 3), {}, {}, {}}));
    ASSERT_EQ(released.size(), 1U);
    EXPECT_NE(released[0].failure, "");
    EXPECT_EQ(hardware().reports.back()[2], 0x04);
}

TEST_F(TheHold, SharesOneFileAmongRolesThatNameItByALink) {
    std::ofstream(log).close();
    std::filesystem::create_symlink(log, folder / "soft");
    std::filesystem::create_hard_link(log, folder / "hard");
    Bank bank({file(log), file(folder / "soft"), file(folder / "hard"), {}});
    EXPECT_EQ(records(), 3);
    ASSERT_TRUE(bank[Role::antenna].set(true));
    EXPECT_EQ(records(), 4);
}

TEST_F(TheHold, RefusesTwoNamesOfOneDongleThatItCouldNotTellBeforeOpening) {
    EXPECT_NE(refusal({dongle(fake_dongle, 3), {}, dongle(fake_dongle_link, 4), {}}).find("antenna: cm108"),
              std::string::npos);
}

}  // namespace
}  // namespace tripline::lines
