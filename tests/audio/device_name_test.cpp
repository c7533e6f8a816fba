#include "daemon/audio/device_name.h"
#include "daemon/audio/source.h"

#include <gtest/gtest.h>

namespace tripline::audio {
namespace {

const std::vector<Device> shack{
    {.index = 0, .host_api = "ALSA", .name = "Fen Audio: Line (hw:0,0)", .inputs = 2, .outputs = 2},
    {.index = 1, .host_api = "ALSA", .name = "Grey Dongle: USB (hw:1,0)", .inputs = 1, .outputs = 2},
    {.index = 2, .host_api = "ALSA", .name = "Grey Dongle: USB (hw:2,0)", .inputs = 1, .outputs = 2},
    {.index = 3, .host_api = "JACK", .name = "Fen Audio: Line", .inputs = 2, .outputs = 2},
};

/// What choosing that name says when it refuses.
std::string refusal(std::string_view name, Need need = {.inputs = 1, .outputs = 0}) {
    try {
        choose_device(shack, name, need);
    } catch (const Error& error) {
        return error.what();
    }
    return {};
}

TEST(ADeviceName, IsTheHostApiAndTheNameWithoutTheCardNumber) {
    EXPECT_EQ(choose_device(shack, "ALSA: Fen Audio: Line", {.inputs = 2, .outputs = 2}).index, 0);
    EXPECT_EQ(choose_device(shack, "JACK: Fen Audio: Line", {.inputs = 2, .outputs = 2}).index, 3);
}

TEST(ADeviceName, HasNoControlCharacters) {
    EXPECT_EQ(plain_name("Fen Audio: Line\n2026 E forged\x1b[2J\x7f"), "Fen Audio: Line?2026 E forged?[2J?");
    EXPECT_EQ(plain_name("H\xc3\xb6rer \xc2\x9b" "2J \xc2\xb5"), "H\xc3\xb6rer \xc2?2J \xc2\xb5");
}

TEST(ADeviceName, MatchesExactlyOrNotAtAll) {
    EXPECT_NE(refusal("ALSA: Fen Audio").find("is not present, or another program holds it; "), std::string::npos);
    EXPECT_NE(refusal("alsa: fen audio: line").find("is not present"), std::string::npos);
}

TEST(ADeviceName, SharedByTwoIsRefusedAndBothAreListed) {
    const std::string text = refusal("ALSA: Grey Dongle: USB");
    EXPECT_NE(text.find("ambiguous"), std::string::npos) << text;
    EXPECT_NE(text.find("\"ALSA: Grey Dongle: USB (hw:1,0)\""), std::string::npos) << text;
    EXPECT_NE(text.find("\"ALSA: Grey Dongle: USB (hw:2,0)\""), std::string::npos) << text;
}

TEST(ADeviceName, WithTheCardNumberTellsAlikeDevicesApart) {
    EXPECT_EQ(choose_device(shack, "ALSA: Grey Dongle: USB (hw:2,0)", {.inputs = 1, .outputs = 0}).index, 2);
}

TEST(ADeviceName, ThatIsABareNumberIsRefused) { EXPECT_NE(refusal("1").find("no stable name"), std::string::npos); }

TEST(ADeviceName, ThatIsEmptyListsTheCandidates) {
    EXPECT_NE(refusal("").find("\"JACK: Fen Audio: Line\""), std::string::npos);
}

TEST(ADevice, WithTooFewChannelsIsRefused) {
    const std::string text = refusal("ALSA: Grey Dongle: USB (hw:1,0)", {.inputs = 2, .outputs = 0});
    EXPECT_NE(text.find("has 1 input and 2 output channels, the settings need 2 and 0; those that another program holds do not count"), std::string::npos) << text;
}

TEST(AMachineWithoutSound, IsSaidToBeOne) {
    try {
        choose_device({}, "ALSA: Fen Audio: Line", {.inputs = 1, .outputs = 0});
        FAIL();
    } catch (const Error& error) {
        EXPECT_NE(std::string(error.what()).find("no sound device is present"), std::string::npos);
    }
}

}  // namespace
}  // namespace tripline::audio
