// Settings that are each right but don't go together.
#include "tests/config/support.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

constexpr auto head = "station.toml:";

void expect(std::string_view file, const std::string& message) {
    EXPECT_EQ(messages_of(file), message.empty() ? "" : head + message + '\n');
}

TEST(TheGate, MustNotCloseUnderTheRoomNoiseItRidesOn) {
    expect("gate.hysteresis_db = 9\n",
           "1:22: gate.hysteresis_db: the gate would close under the room noise, that is, never; "
           "allowed: less than gate.above_floor_db (9 dB)");
    expect("gate.hysteresis_db = 9\ngate.threshold = \"fixed\"\n", "");
}

TEST(TheGate, MustQualifyInLessThanTheHangTime) {
    EXPECT_EQ(messages_of("gate.hold_ms = 100\ngate.qualify_ms = 100\n"),
              "station.toml:1:16: note: gate.hold_ms: 100 ms is unusual; common practice is 1000 "
              "to 3000 ms\n"
              "station.toml:2:19: gate.qualify_ms: not shorter than the hang time; allowed: less "
              "than gate.hold_ms (100 ms)\n");
}

TEST(TheVoiceBand, MustNotBeEmptyNorTooHighForTheSampleRate) {
    expect("voice_band.low_hz = 1000\nvoice_band.high_hz = 1000\n",
           "1:21: voice_band.low_hz: the band is empty; allowed: less than voice_band.high_hz "
           "(1000 Hz)");
    expect("audio.rate_hz = 8000\nvoice_band.high_hz = 3700\n",
           "2:22: voice_band.high_hz: too high for the sample rate; allowed: at most 0.45 times "
           "audio.rate_hz (3600 Hz)");
}

TEST(TheLongestOver, IsLongerThanTheHangTimeAndNotedAboveThreeMinutes) {
    expect("limits.longest_over_s = 1\n",
           "1:25: limits.longest_over_s: not longer than the hang time; allowed: more than "
           "gate.hold_ms (1500 ms)");
    expect("limits.longest_over_s = 181\n",
           "1:25: note: limits.longest_over_s: longer than the 3 minutes of 47 CFR 97.213(b); local "
           "rules govern");
}

TEST(TheLookAhead, IsNotedWhenItDelaysNothingOrNotEnough) {
    expect("transmit_audio.look_ahead_ms = 60\n",
           "1:32: note: transmit_audio.look_ahead_ms: delays nothing: audio.transmitter_channel is 0");
    expect("transmit_audio.look_ahead_ms = 63\naudio.transmitter_channel = 1\n",
           "1:32: note: transmit_audio.look_ahead_ms: shorter than the 70 ms from a clear beginning to "
           "transmitter ready: the first syllable is cut");
    expect("transmit_audio.look_ahead_ms = 70\naudio.transmitter_channel = 1\n", "");
}

TEST(TheLookAhead, IsNotLongerThanTheHangTime) {
    EXPECT_EQ(messages_of("transmit_audio.look_ahead_ms = 500\naudio.transmitter_channel = 1\n"
                          "gate.hold_ms = 499\n"),
              "station.toml:1:32: transmit_audio.look_ahead_ms: the end of each over would be cut; "
              "allowed: at most gate.hold_ms (499 ms)\n"
              "station.toml:3:16: note: gate.hold_ms: 499 ms is unusual; common practice is 1000 "
              "to 3000 ms\n");
}

TEST(ASecondSoundDevice, IsAnotherOneWithAChannelAndItsClockIsNoted) {
    expect("audio.device = \"Grey box\"\naudio.monitor_device = \"Grey box\"\n",
           "2:24: audio.monitor_device: is the same as audio.device; allowed: another device, or "
           "\"\" for the same one");
    expect("audio.device = \"Grey box\"\naudio.monitor_device = \"Blue box\"\n",
           "2:24: note: audio.monitor_device: two sound devices run on two clocks: anti-trip times "
           "drift, see the manual");
    EXPECT_NE(messages_of("audio.monitor_device = \"Blue box\"\naudio.receiver_channel = 0\n")
                  .find("station.toml:2:26: audio.receiver_channel: audio.monitor_device has no "
                        "channel to listen to; allowed: 1 to 64\n"),
              std::string::npos);
}

TEST(ASecondSoundDevice, RunsOnAClockOfItsOwnSoThatTheEchoMethodIsRefused) {
    EXPECT_NE(messages_of("audio.device = \"Grey box\"\naudio.monitor_device = \"Blue box\"\nanti_trip.method = \"echo\"\n")
                  .find("station.toml:3:20: anti_trip.method: \"echo\" needs both inputs on one clock, and "
                        "audio.monitor_device has its own; allowed: \"envelope\", or both inputs on one device\n"),
              std::string::npos);
    expect("audio.device = \"Grey box\"\nanti_trip.method = \"echo\"\n", "");
}

TEST(ThePage, IsServedBeyondThisComputerOnlyWithATokenFile) {
    expect("web.port = 8571\nweb.address = \"0.0.0.0\"\n",
           "2:15: web.address: 0.0.0.0 is beyond this computer, and who may use the page is told by web.token_file "
           "alone; allowed: 127.0.0.1, or any address with web.token_file");
    expect("web.port = 8571\nweb.address = \"lighthouse\"\n",
           "2:15: web.address: \"lighthouse\" is no address; allowed: an IPv4 or IPv6 address in figures");
    for (const char* good : {"web.address = \"0.0.0.0\"\n", "web.port = 8571\nweb.address = \"::1\"\n",
                             "web.port = 8571\nweb.address = \"0.0.0.0\"\nweb.token_file = \"/etc/tripline/page-token\"\n"}) {
        expect(good, "");
    }
}

TEST(ThePage, IsNotedToBeMissingAtAPortThatTakesAPrivilege) {
    expect("web.port = 80\n", "1:12: note: web.port: a port under 1024 takes a privilege that the service does not have, so the page will be "
                               "missing; take one from 1024 on, and a proxy in front if it has to be 80");
    expect("web.port = 1024\n", "");
}

TEST(ASoundDevice, IsNamedAndNotNumbered) {
    expect("audio.device = \"3\"\n",
           "1:16: audio.device: \"3\" is a bare number, and numbers of devices change; give the "
           "name; allowed: text of at most 255 bytes without control characters");
}

TEST(SoundChannels, ServeOnePurposeEach) {
    expect("audio.receiver_channel = 1\n",
           "1:26: audio.receiver_channel: is the microphone's channel; allowed: another channel, or "
           "0 for none");
    expect("audio.transmitter_channel = 1\naudio.loudspeaker_channel = 1\n",
           "2:29: audio.loudspeaker_channel: is the transmitter's channel; allowed: another channel, "
           "or 0 for none");
    expect("audio.receiver_channel = 0\n",
           "1:26: note: audio.receiver_channel: without the receiver's audio anti-trip does nothing");
}

TEST(AStall, IsLongerThanTwoBlocksOfSound) {
    expect("audio.latency_ms = 60\n",
           "1:20: audio.stall_ms: every block of sound would count as a fault; allowed: at least "
           "twice audio.latency_ms (60 ms)");
}

TEST(ALine, NeedsADeviceAndOnAGpioChipAPin) {
    EXPECT_EQ(messages_of("[line.mute]\nkind = \"gpio\"\n"),
              "station.toml:2:8: line.mute.kind: needs line.mute.device; allowed: the path of the file "
              "or device\n"
              "station.toml:2:8: line.mute.kind: needs line.mute.pin; allowed: 0 to 1023\n");
    expect("line.mute.kind = \"none\"\nline.mute.device = \"/dev/ttyS0\"\n",
           "2:20: note: line.mute.device: not used: line.mute.kind is \"none\"");
    const std::string needed = " needs line.ptt.kind, without which the line is not wired; allowed: \"file\", \"serial\", \"gpio\", \"cm108\"";
    expect("line.ptt.device = \"/dev/ttyS0\"\nline.ptt.pin = \"rts\"\n", "1:19: line.ptt.device:" + needed);
    expect("line.ptt.active = \"low\"\n", "1:19: line.ptt.active:" + needed);
    expect("line.mute.lead_ms = 8\n", "");
    EXPECT_EQ(messages_of("line.ptt.type = \"serial\"\nline.ptt.pin = \"rts\"\n"), "station.toml:1:10: line.ptt.type: no such key; did you mean line.ptt.kind?\n");
}

TEST(ALine, TakesThePinsOfItsKindOnly) {
    const auto wire = [](const std::string& kind, const std::string& pin) {
        return messages_of("[line.mute]\nkind = \"" + kind + "\"\ndevice = \"/dev/x\"\npin = " + pin +
                           "\n");
    };
    for (const auto* pin : {"\"rts\"", "\"dtr\"", "\"\""}) EXPECT_EQ(wire("serial", pin), "");
    for (const auto* pin : {"0", "1023"}) EXPECT_EQ(wire("gpio", pin), "");
    for (const auto* pin : {"1", "8", "\"\""}) EXPECT_EQ(wire("cm108", pin), "");
    for (const auto* pin : {"4", "\"cts\""}) EXPECT_NE(wire("serial", pin), "");
    for (const auto* pin : {"-1", "1024", "\"rts\"", "\"\""}) EXPECT_NE(wire("gpio", pin), "");
    for (const auto* pin : {"0", "9", "\"rts\""}) EXPECT_NE(wire("cm108", pin), "");
}

TEST(AKeyOnASerialPort, IsNotActiveLow) {
    const std::string serial = "kind = \"serial\"\ndevice = \"/dev/ttyS0\"\nactive = \"low\"\n";
    EXPECT_EQ(messages_of("[audio]\nreceiver_channel = 0\n[anti_trip]\nenabled = false\n[line.ptt]\n" + serial),
              "station.toml:8:10: line.ptt.active: a key on a serial port that is active low closes "
              "whenever the port is not open; allowed: \"high\"\n");
    EXPECT_EQ(messages_of("[line.mute]\n" + serial), "");
}

std::string mute_on(const std::string& kind, const std::string& device) {
    return messages_of("[line.mute]\nkind = \"" + kind + "\"\ndevice = \"" + device + "\"\npin = " +
                       (kind == "serial" ? "\"rts\"" : "3") + "\n");
}

TEST(ALine, IsOnAPathThatSuitsItsKind) {
    for (const auto* kind : {"serial", "gpio", "cm108"}) {
        EXPECT_NE(mute_on(kind, "ttyS0").find("line.mute.device: is not a whole path; allowed: the path of a "),
                  std::string::npos);
        EXPECT_EQ(mute_on(kind, "/dev/shack"), "");
    }
    EXPECT_NE(mute_on("cm108", "/tmp/dongle").find("line.mute.device: is no device; allowed: /dev/hidraw*"),
              std::string::npos);
}

TEST(ALog, IsNoDevice) {
    for (const auto* path : {"ptt.log", "/tmp/ptt.log", "/dev/shm/ptt.log"})
        EXPECT_EQ(messages_of(std::string("[line.mute]\nkind = \"file\"\ndevice = \"") + path + "\"\n"), "");
    for (const auto* path : {"/dev/ttyS0", "/dev/null"})
        expect(std::string("[line.mute]\nkind = \"file\"\ndevice = \"") + path + "\"\n",
               "3:10: line.mute.device: is a device, and a line of kind \"file\" is a log; allowed: the path "
               "of a file");
}

TEST(ADeviceName, ThatMayChangeIsNoted) {
    EXPECT_EQ(mute_on("serial", "/dev/ttyUSB0"),
              "station.toml:3:10: note: line.mute.device: this name may be another device's after the "
              "next start; take one under /dev/serial/by-id, see the manual\n");
    EXPECT_EQ(mute_on("cm108", "/dev/hidraw0"),
              "station.toml:3:10: note: line.mute.device: this name may be another device's after the "
              "next start; take a link made by a udev rule, see the manual\n");
}

TEST(AReceiver, ThatNothingMutesIsNoted) {
    const std::string ptt = "[line.ptt]\nkind = \"file\"\ndevice = \"log\"\n";
    EXPECT_EQ(messages_of(ptt),
              "station.toml:2:8: note: anti_trip.muted_on_air: nothing here mutes the receiver on the air "
              "(line.mute, audio.loudspeaker_channel): say false, unless the transmitter itself does\n");
    EXPECT_EQ(messages_of(ptt + "[line.mute]\nkind = \"file\"\ndevice = \"log\"\n"), "");
    EXPECT_EQ(messages_of(ptt + "[audio]\nloudspeaker_channel = 1\n"), "");
    EXPECT_EQ(messages_of(ptt + "[anti_trip]\nmuted_on_air = false\n"), "");
}

TEST(TwoLines, MayShareALogButNoPin) {
    const std::string ptt = "[line.ptt]\nkind = \"cm108\"\ndevice = \"/dev/dongle\"\n";
    const std::string mute = "[line.mute]\nkind = \"cm108\"\ndevice = \"/dev/dongle\"\n";
    EXPECT_EQ(messages_of(ptt + mute + "pin = 4\n"), "");
    EXPECT_EQ(messages_of(ptt + mute),
              "station.toml:6:10: line.mute.device: is the pin of line.ptt; allowed: a pin of its "
              "own\n");
    EXPECT_EQ(messages_of("[line.ptt]\nkind = \"file\"\ndevice = \"log\"\n"
                          "[line.mute]\nkind = \"file\"\ndevice = \"log\"\n"),
              "");
}

TEST(AKeyInError, IsNotBlamedAgainByARuleOfSeveralKeys) {
    expect("audio.rate_hz = 80\nvoice_band.high_hz = 8000\n",
           "1:17: audio.rate_hz: 80 is out of range; allowed: 8000 to 192000 Hz");
}

}  // namespace
}  // namespace tripline::config
