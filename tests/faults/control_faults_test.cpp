// Rows of the fault table in which a client of the control socket misbehaves while the station
// is keyed: the key stays as it is, and still opens when it is told to.
#include "tests/control/near_end.h"
#include "tests/faults/child.h"
#include "tests/faults/fault_table.h"
#include "tests/faults/rig.h"

#include <gtest/gtest.h>
#include <poll.h>

#include <functional>

namespace tripline::faults {
namespace {

using control::NearEnd;

/// A station that plays a recording, with file lines and a control socket.
struct Played {
    Folder folder;
    LineLog lines{folder.path / "log"};
    std::string socket = (folder.path / "control.sock").string();
    std::unique_ptr<Child> daemon;

    Played() { start(); }
    void start() {
        daemon = std::make_unique<Child>(std::vector<std::string>{
            TRIPLINE_PROGRAM, "run", "--from", "testdata/evening.flac", "--lines", (folder.path / "log").string(),
            "--set", "control.socket=" + socket});
        if (!NearEnd(socket).connected()) throw std::runtime_error("the station did not start");
    }
    /// Commands mode keyed until it is taken. Throws when the key does not close.
    void key() {
        for (int tries = 0; tries < 3; ++tries) {
            if (daemon->wait(0ms) != -1) start();  // the recording is over
            const Instant asked = now();
            NearEnd(socket).ask(R"({"do":"mode","mode":"armed"})");  // a key is not forced out of safe
            NearEnd(socket).ask(R"({"do":"mode","mode":"keyed"})");
            if (lines.wait("ptt", true, asked, 1s)) return;
        }
        throw std::runtime_error("not on the air");
    }
    bool opened_since(Instant then) const { return lines.wait("ptt", false, then, 1ms).has_value(); }
};

using Misbehave = std::function<void(NearEnd&)>;

void inject(const std::string& row, const Misbehave& fault) {
    Played station;
    while (table().wants(row + ", then safe")) {
        station.key();
        const Instant began = now();
        NearEnd client(station.socket);
        fault(client);
        ::poll(nullptr, 0, 100);
        ASSERT_FALSE(station.opened_since(began)) << row << ": the key moved";
        const Instant told = now();
        ASSERT_NE(NearEnd(station.socket).ask(R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
        const auto opened = station.lines.wait("ptt", false, told);
        ASSERT_TRUE(opened) << row << ": the key stayed closed";
        table().add(row + ", then safe", any_fault, told, *opened);
        ASSERT_TRUE(station.lines.wait("mute", false, *opened));
    }
}

TEST(TheKey, StaysAndStillOpensWhenControlMessagesAreMalformed) {
    inject("control messages malformed", [](NearEnd& client) {
        for (const char* line : {"nonsense\n", "{\"do\":\"mode\",\"mode\":\"loud\"}\n", "[]\n", "\xff\xfe\n", "{}\n"}) {
            client.say(line);
        }
    });
}

TEST(TheKey, StaysAndStillOpensWhenAControlMessageIsTruncated) {
    inject("control message truncated", [](NearEnd& client) { client.say(R"({"do":"mode","mode":"sa)"); });
}

TEST(TheKey, StaysAndStillOpensWhenAControlMessageIsTooLong) {
    inject("control message of 1 MiB", [](NearEnd& client) { client.say(std::string(1U << 20, 'x')); });
}

TEST(TheKey, StaysAndStillOpensWhenControlMessagesFlood) {
    inject("control messages flooding", [](NearEnd& client) {
        const std::string line = "{\"do\":\"status\"}\n{\"do\":\"mode\",\"mode\":\"loud\"}\n";
        for (const Instant end = now() + 50ms; now() < end;)
            if (!client.say(line)) break;
    });
}

}  // namespace
}  // namespace tripline::faults
