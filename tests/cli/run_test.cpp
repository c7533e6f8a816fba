// `tripline run` as a process with its guard: signals, and how it ends.
#include "tests/control/near_end.h"
#include "tests/faults/child.h"

#include <gtest/gtest.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/wait.h>

#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

namespace tripline::cli {
namespace {

namespace fs = std::filesystem;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct TheStation : testing::Test {
    fs::path folder = fs::temp_directory_path() / ("tripline-run-" + std::to_string(::getpid()));
    std::string lines = (folder / "lines").string();
    std::string log = (folder / "log").string();

    void SetUp() override { fs::create_directory(folder); }
    void TearDown() override { fs::remove_all(folder); }

    std::vector<std::string> run(const std::string& recording) const {
        return {"/bin/sh",        "-c",      "exec \"$0\" run --from \"$1\" --lines \"$2\" 2> \"$3\"",
                TRIPLINE_PROGRAM, recording, lines, log};
    }
    static std::string text_of(const std::string& path) {
        std::ostringstream text;
        text << std::ifstream(path).rdbuf();
        return text.str();
    }
    /// Waits until `text` stands in the file.
    static bool comes(const std::string& path, const std::string& text, Duration timeout = 20s) {
        const auto end = std::chrono::steady_clock::now() + timeout;
        while (std::chrono::steady_clock::now() < end) {
            if (text_of(path).find(text) != std::string::npos) return true;
            ::poll(nullptr, 0, 5);
        }
        return false;
    }
    /// The engine's mode is told before the guard has driven the lines: waits a moment.
    static bool ends_at_rest(const std::string& lines) {
        for (int i = 0; i < 100; ++i) {
            const std::string text = text_of(lines);
            if (text.rfind("ptt rest") != std::string::npos && text.rfind("ptt rest") > text.rfind("ptt active")) return true;
            ::poll(nullptr, 0, 20);
        }
        return false;
    }
};

TEST_F(TheStation, WritesItsBlackBoxAfterAForcedTimeOutAndItReplaysToTheSameEvents) {
    auto command = run("testdata/evening.flac");
    command[2] += " --set limits.longest_over_s=3 --set black_box.folder=" + (folder / "captures").string();
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "black box written: ", 60s)) << text_of(log);
    station.signal(SIGTERM);
    fs::path sound;
    for (const auto& entry : fs::directory_iterator(folder / "captures")) {
        if (entry.path().extension() == ".flac") sound = entry.path();
    }
    ASSERT_NE(sound.filename().string().find("time-out"), std::string::npos);
    const auto beside = [&](const char* extension) { return fs::path(sound).replace_extension(extension).string(); };
    const std::string replay = std::string(TRIPLINE_PROGRAM) + " replay " + sound.string() + " --config " +
                               beside(".toml") + " --events " + (folder / "again").string() + " > /dev/null";
    ASSERT_EQ(std::system(replay.c_str()), 0);
    const std::string told = text_of(beside(".events.jsonl"));
    EXPECT_NE(told.find("too_long"), std::string::npos);
    EXPECT_EQ(text_of((folder / "again").string()), told);
}

TEST_F(TheStation, WritesItsBlackBoxWhenAskedAndWhenAnOverIsMarkedAndBothReplayFromTheirBeginning) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket + " --set black_box.keep_s=10 --set black_box.folder=" + (folder / "captures").string();
    faults::Child station(command);
    ASSERT_NE(station.hear("  ", 60s).find("key closed"), std::string::npos) << text_of(log);
    ASSERT_NE(station.hear("  ", 60s).find("key"), std::string::npos) << text_of(log);   // opened again
    const auto words = [&](const std::string& command_line) {
        const std::string out = (folder / "words").string();
        const int ended = std::system((std::string(TRIPLINE_PROGRAM) + ' ' + command_line + " --socket " + socket + " > " + out + " 2>&1").c_str());
        return std::to_string(WEXITSTATUS(ended)) + ' ' + text_of(out);
    };
    const std::string path = words("capture");
    EXPECT_TRUE(path.starts_with("0 /") && path.ends_with("-asked-for.flac\n") && fs::exists(path.substr(2, path.size() - 3))) << path;
    const std::string told = words("explain --ago 4");
    EXPECT_TRUE(told.starts_with("0 Written by the black box: /")) << told;
    EXPECT_NE(told.find(" UTC): "), std::string::npos) << told;
    EXPECT_NE(told.find("; the stretch meant is from "), std::string::npos) << told;
    EXPECT_NE(words("explain --ago 1:00").find(" is not among what the station keeps: "), std::string::npos);
    EXPECT_NE(words("explain 2099-01-01T00:00:00.000Z").find("2099-01-01T00:00:00.000Z is still to come"), std::string::npos);
    const std::string marked = words("mark missed");
    EXPECT_TRUE(marked.starts_with("0 marked: spoken, and nothing was keyed; there is no station log to keep that in; the black box is asked")) << marked;
    EXPECT_NE(words("status").find("black box       is being asked for what it keeps"), std::string::npos);
    ASSERT_TRUE(comes(log, "marked-missed", 30s)) << text_of(log);
    station.signal(SIGTERM);
    EXPECT_EQ(station.wait(10s), 0);
    int captures = 0;
    for (const auto& entry : fs::directory_iterator(folder / "captures")) {
        if (entry.path().extension() != ".flac") continue;
        ++captures;
        const auto beside = [&](const char* extension) { return fs::path(entry.path()).replace_extension(extension).string(); };
        ASSERT_TRUE(fs::exists(beside(".memory"))) << text_of(beside(".txt"));   // the first ten seconds are gone
        const std::string replay = std::string(TRIPLINE_PROGRAM) + " replay " + entry.path().string() + " --config " +
                                   beside(".toml") + " --memory " + beside(".memory") + " --events " +
                                   (folder / "again").string() + " > /dev/null";
        ASSERT_EQ(std::system(replay.c_str()), 0);
        EXPECT_EQ(text_of((folder / "again").string()), text_of(beside(".events.jsonl")));
        EXPECT_NE(text_of(beside(".txt")).find("every figure: all the same"), std::string::npos) << text_of(beside(".txt"));
    }
    EXPECT_EQ(captures, 3) << "a moment that is not kept any more is refused without one";
}

TEST_F(TheStation, GoesToSafeAndBackToArmedBySignals) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket;
    faults::Child station(command);
    ASSERT_NE(station.hear("  ", 20s).find("key closed"), std::string::npos) << text_of(log);
    ASSERT_TRUE(comes(lines, "ptt active")) << "the guard has its own lead times";
    EXPECT_NE(control::NearEnd(socket).ask(R"({"do":"mode","mode":"armed"})").find("armed: the voice keys, and holds the key closed, or its hang time does; safe opens it"), std::string::npos);
    station.signal(SIGUSR1);
    EXPECT_TRUE(comes(log, "mode safe commanded by SIGUSR1"));
    EXPECT_TRUE(comes(log, "the station is in mode safe")) << text_of(log);
    EXPECT_TRUE(ends_at_rest(lines)) << text_of(lines);
    station.signal(SIGUSR2);
    EXPECT_TRUE(comes(log, "the station is in mode armed")) << text_of(log);
    station.signal(SIGTERM);
    EXPECT_EQ(station.wait(10s), 0);
    EXPECT_TRUE(comes(log, "stopped: lines released"));
}

// Where no shell could have the program go on it does so at once: the key must not stay closed all the same.
TEST_F(TheStation, OpensAForcedKeyWhenTheTerminalHasItStandStill) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] = "STATE_DIRECTORY='" + folder.string() + "' " + command[2] + " --set control.socket=" + socket;
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    ASSERT_EQ(std::system((std::string(TRIPLINE_PROGRAM) + " key --socket " + socket + " > /dev/null").c_str()), 0);
    ASSERT_TRUE(comes(lines, "ptt active"));
    station.signal(SIGTSTP);
    EXPECT_TRUE(comes(log, "told to stand still by the terminal (Ctrl-Z): the key opens")) << text_of(log);
    EXPECT_TRUE(comes(log, "mode safe commanded by Ctrl-Z")) << text_of(log);
    EXPECT_TRUE(ends_at_rest(lines)) << text_of(lines);
    station.signal(SIGTERM);
    int ended = -1;
    for (int i = 0; i < 100 && ended < 0; ++i) {  // it may not stand still yet
        station.signal(SIGCONT);
        ended = station.wait(100ms);
    }
    EXPECT_EQ(ended, 0);
}

TEST_F(TheStation, TakesUpANewSettingWhileTheSoundGoesOn) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket + " --set anti_trip.method=echo --set black_box.folder=" + (folder / "captures").string();
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    const auto tell = [&](const std::string& words) {
        return WEXITSTATUS(std::system((std::string(TRIPLINE_PROGRAM) + ' ' + words + " --socket " + socket + " >> " + (folder / "told").string() + " 2>&1").c_str()));
    };
    EXPECT_EQ(tell("set 'gate.hold_ms = 900'"), 0) << "as in the file";
    EXPECT_EQ(tell("status --settings"), 0) << "at once: they are in force with the answer";
    EXPECT_NE(text_of((folder / "told").string()).find("gate.hold_ms = 900"), std::string::npos);
    EXPECT_NE(text_of((folder / "told").string()).find("in force, taken up with the key released"), std::string::npos);
    ASSERT_TRUE(comes(log, "new settings are in force; the sound went on")) << text_of(log);
    EXPECT_EQ(tell("mark false 0"), 2);
    EXPECT_EQ(tell("set gate.hysteresis_db=21"), 2);
    EXPECT_EQ(text_of((folder / "told").string()).find("--set:"), std::string::npos) << text_of((folder / "told").string());
    const std::string told = text_of(log);
    EXPECT_EQ(told.find("sound open: "), told.rfind("sound open: ")) << "opened once: " << told;
    // Voice keys it, and what was heard since then replays to the bit.
    ASSERT_NE(station.hear("  ", 60s).find("key closed"), std::string::npos) << text_of(log);
    EXPECT_EQ(tell("capture"), 0);
    for (const auto& entry : fs::directory_iterator(folder / "captures")) {
        if (entry.path().extension() != ".txt") continue;
        EXPECT_NE(text_of(entry.path()).find("every figure: all the same"), std::string::npos) << text_of(entry.path());
    }
}

// The engine that takes over begins with the fault of the one before; that it is over has to reach it as well.
TEST_F(TheStation, HearsAgainWhenNewSettingsComeRightAfterAFault) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket;
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    for (int round = 1; round <= 2; ++round) {
        station.signal(SIGSTOP);
        ::poll(nullptr, 0, 500);
        station.signal(SIGCONT);
        const auto ready_again = [&] {
            int ready = 0;
            const std::string text = text_of(log);
            for (auto at = text.find("station ready"); at != std::string::npos; at = text.find("station ready", at + 1)) ++ready;
            return ready > round;
        };
        for (int i = 0; i < 4000 && !ready_again(); ++i) ::poll(nullptr, 0, 1);
        ASSERT_TRUE(ready_again()) << text_of(log);
        const std::string set = std::string(TRIPLINE_PROGRAM) + " set gate.hold_ms=" + std::to_string(1500 + round) + " --socket " + socket + " > /dev/null";
        ASSERT_EQ(std::system(set.c_str()), 0);
    }
    EXPECT_NE(station.hear("  ", 60s).find("key closed"), std::string::npos) << text_of(log);
}

TEST_F(TheStation, ForcesNoKeyJustAfterItStoodStillSinceThatMayHaveBeenCommandedLongBefore) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket;
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    const std::string key = std::string(TRIPLINE_PROGRAM) + " key --socket " + socket + " > " + (folder / "said").string() + " 2>&1";
    station.signal(SIGSTOP);
    ::poll(nullptr, 0, 1200);
    station.signal(SIGCONT);
    ::poll(nullptr, 0, 300);   // the fault of the standstill is over
    EXPECT_EQ(WEXITSTATUS(std::system(key.c_str())), 2);
    EXPECT_NE(text_of((folder / "said").string()).find("has just stood still"), std::string::npos) << text_of((folder / "said").string());
    ::poll(nullptr, 0, 1200);
    EXPECT_EQ(WEXITSTATUS(std::system(key.c_str())), 0) << text_of((folder / "said").string());
}

TEST_F(TheStation, LeftInSafeStartsInSafeAndNothingKeysItUntilItIsArmed) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] = "STATE_DIRECTORY='" + folder.string() + "' " + command[2] + " --set control.socket=" + socket;
    const auto tell = [&](const std::string& words) {
        return WEXITSTATUS(std::system((std::string(TRIPLINE_PROGRAM) + ' ' + words + " --socket " + socket + " > " + (folder / "said").string() + " 2>&1").c_str()));
    };
    const auto said = [&] { return text_of((folder / "said").string()); };
    {
        faults::Child station(command);
        ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
        EXPECT_EQ(tell("unkey"), 2);
        EXPECT_NE(said().find("no key is forced, the mode is armed"), std::string::npos) << said();
        EXPECT_EQ(tell("safe"), 0);
        EXPECT_EQ(said(), "safe: the key is open, and nothing keys until the station is armed\n");
        EXPECT_EQ(tell("unkey"), 2) << "safe is not lifted by it";
        EXPECT_EQ(tell("key"), 2);
        station.signal(SIGKILL);
        station.wait(10s);
    }
    faults::Child again(command);
    ASSERT_TRUE(comes(log, "mode safe, as the station was left")) << text_of(log);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    command.back() = (folder / "second-log").string();
    faults::Child second(command);
    EXPECT_EQ(WEXITSTATUS(second.wait(10s)), 2);
    EXPECT_TRUE(comes(command.back(), "another daemon of this station runs with this state folder"));
    EXPECT_EQ(tell("key"), 2);
    EXPECT_EQ(tell("arm"), 0);
    ASSERT_TRUE(comes(log, "the station is in mode armed")) << text_of(log);
    EXPECT_EQ(tell("key"), 0);
    EXPECT_EQ(said(), "keyed: the transmitter is forced on until unkey or safe; if neither comes, the time limit opens the key in 180 s\n");
    ASSERT_TRUE(comes(lines, "ptt active"));
    EXPECT_EQ(tell("unkey"), 0);
    EXPECT_EQ(said(), "armed: the forced key is open, and the voice keys\n");
    EXPECT_GT(text_of(lines).rfind("ptt rest"), text_of(lines).rfind("ptt active")) << "it was when that was said: " << text_of(lines);
    EXPECT_TRUE(ends_at_rest(lines)) << text_of(lines);
    again.signal(SIGTERM);
    EXPECT_EQ(again.wait(10s), 0);
    EXPECT_FALSE(fs::exists(folder / "safe"));
}

/// The daemon's child that holds the lines.
pid_t guard_of(pid_t daemon) {
    for (const auto& entry : fs::directory_iterator("/proc")) {
        std::ifstream file(entry.path() / "stat");
        std::string number, name, state;
        pid_t parent = 0;
        if (file >> number >> name >> state >> parent && parent == daemon && name.find("guard") != std::string::npos) return std::stoi(number);
    }
    return -1;
}

TEST_F(TheStation, LogsNoOverWhereTheGuardStoodStillBeforeItClosedTheKey) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket + " --set logbook.file=" + (folder / "overs.jsonl").string();
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    const pid_t guard = guard_of(station.pid());
    ASSERT_GT(guard, 0);
    ASSERT_EQ(std::system((std::string(TRIPLINE_PROGRAM) + " key --socket " + socket + " > /dev/null & kill -STOP " + std::to_string(guard)).c_str()), 0);
    ASSERT_TRUE(comes(log, "lines released: ")) << text_of(log);
    if (station.hear("  ", 2s).find("key closed") == std::string::npos) GTEST_SKIP() << "the guard was noticed before the station keyed";
    ASSERT_TRUE(comes(log, "no over logged: the guard was lost before it told of a closed key")) << text_of(log);
    station.signal(SIGTERM);
    EXPECT_EQ(station.wait(10s), 0);
    EXPECT_EQ(text_of((folder / "overs.jsonl").string()).find("forced"), std::string::npos) << text_of((folder / "overs.jsonl").string());
    EXPECT_EQ(text_of(lines).find("ptt active"), std::string::npos) << text_of(lines);
}

// The safe is answered once the guard has told that the key is open; an arm may have come by then.
TEST_F(TheStation, TellsNobodyThatNothingKeysOnceAnotherHasArmedIt) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket;
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    control::NearEnd one(socket), other(socket);
    std::string told;
    for (int i = 0; i < 20 && told.find("the mode is armed now") == std::string::npos; ++i) {  // both within one turn of the service
        one.say("{\"do\":\"mode\",\"mode\":\"safe\"}\n");
        ::poll(nullptr, 0, 2);
        other.say("{\"do\":\"mode\",\"mode\":\"armed\"}\n");
        told = one.hear("\"ok\"");
        other.hear("\"ok\"");
        ::poll(nullptr, 0, 200);  // the allowance of changes
    }
    EXPECT_NE(told.find("done, but another command came after it: the mode is armed now"), std::string::npos) << told;
}

TEST_F(TheStation, DoesNotStartBesideAnotherWithTheSameControlSocket) {
    const std::string settings = (folder / "shack.toml").string();
    std::ofstream(settings) << "[control]\nsocket = \"" << (folder / "control.sock").string() << "\"\n";
    auto command = run("testdata/evening.flac");
    command[2] += " --config " + settings;
    faults::Child first(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    command[5] = (folder / "other-lines").string();
    command[6] = (folder / "second-log").string();
    faults::Child second(command);
    EXPECT_EQ(WEXITSTATUS(second.wait(10s)), 2);
    EXPECT_EQ(second.hear("", 1s), "") << "refused before it says that it plays";
    const std::string told = text_of(command[6]);
    EXPECT_NE(told.find("a station runs there already: process " + std::to_string(first.pid()) + " (tripline) with the settings " + settings + "; stop that one first"),
              std::string::npos) << told;
    EXPECT_FALSE(fs::exists(command[5])) << "no line was driven";
    const std::string status = "\"$0\" status --config " + settings;
    faults::Child teller({"/bin/sh", "-c", status, TRIPLINE_PROGRAM});
    EXPECT_EQ(teller.hear("process", 5s), "process         " + std::to_string(first.pid()) + ", settings " + settings);
}

TEST_F(TheStation, TellsInItsStatusWhatItGoesWithout) {
    const lines::Descriptor taken(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0));
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof address;
    ASSERT_EQ(::bind(taken.get(), reinterpret_cast<sockaddr*>(&address), size), 0);
    ASSERT_EQ(::listen(taken.get(), 1), 0);
    ASSERT_EQ(::getsockname(taken.get(), reinterpret_cast<sockaddr*>(&address), &size), 0);
    const std::string socket = (folder / "control.sock").string(), port = std::to_string(ntohs(address.sin_port));
    auto command = run("testdata/evening.flac");
    command[2] += " --set control.socket=" + socket + " --set web.port=" + port + " --set logbook.file=" + (folder / "nowhere" / "overs").string();
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    faults::Child teller({"/bin/sh", "-c", "\"$0\" status --socket " + socket, TRIPLINE_PROGRAM});
    const std::string no_log = teller.hear("goes without", 5s), no_page = teller.hear("goes without", 5s);
    EXPECT_TRUE(no_log.starts_with("goes without    no station log: " + (folder / "nowhere").string())) << no_log;
    EXPECT_EQ(no_page, "goes without    no page: 127.0.0.1:" + port + ": Address already in use");
    EXPECT_NE(control::NearEnd(socket).ask(R"({"do":"page"})").find("no page: 127.0.0.1:" + port), std::string::npos);
}

TEST_F(TheStation, NamesTheLogThatAnotherHoldsAndHasNobodyLookAtWires) {
    faults::Child first(run("testdata/evening.flac"));
    ASSERT_TRUE(comes(log, "station ready")) << text_of(log);
    auto command = run("testdata/evening.flac");
    command.back() = (folder / "second-log").string();
    faults::Child second(command);
    EXPECT_EQ(WEXITSTATUS(second.wait(20s)), 2);
    const std::string told = text_of(command.back());
    EXPECT_NE(told.find("recording ended early: no line could be had: "), std::string::npos) << told;
    EXPECT_NE(told.find("no guard could drive every line to rest: its last word was: "), std::string::npos) << told;
    EXPECT_NE(told.find("held by process "), std::string::npos) << told;
    EXPECT_EQ(told.find("look at every line"), std::string::npos) << told;
}

TEST_F(TheStation, RefusesAForcedKeyWhileLockedOutAndStaysArmed) {
    const std::string socket = (folder / "control.sock").string();
    auto command = run("testdata/evening.flac");
    command[2] += " --set limits.longest_over_s=3 --set limits.quiet_to_clear_s=60 --set control.socket=" + socket;
    faults::Child station(command);
    ASSERT_TRUE(comes(log, "locked out until the microphone is quiet", 60s)) << text_of(log);
    const auto tell = [&](const std::string& words) {
        return WEXITSTATUS(std::system((std::string(TRIPLINE_PROGRAM) + ' ' + words + " --socket " + socket + " > " + (folder / "said").string() + " 2>&1").c_str()));
    };
    const std::string refusal = "the station is locked out (too_long) until the microphone has been quiet for 60 s in one piece; key again after that: "
                                "neither safe nor arm shortens it; the mode is armed as before, and the voice keys then";
    EXPECT_EQ(tell("key"), 2);
    EXPECT_EQ(text_of((folder / "said").string()), refusal + "\n");
    EXPECT_TRUE(comes(log, "mode keyed refused: " + refusal)) << text_of(log);
    EXPECT_EQ(tell("status"), 0);
    EXPECT_EQ(text_of(log).find("the station is in mode"), std::string::npos) << "it was armed all the time: " << text_of(log);
    const std::string status = text_of((folder / "said").string());
    EXPECT_NE(status.find("mode            armed\nstate           locked_out (too_long) until the microphone has been quiet\n"), std::string::npos) << status;
}

TEST_F(TheStation, SaysAtOnceWhatItWaitsFor) {
    auto command = run("");
    command[2] = "exec \"$0\" run --lines \"$2\" 2> \"$3\"";
    {
        faults::Child station(command);
        EXPECT_NE(station.hear("the settings name no sound device (audio.device), so this waits in vain: tripline devices", 5s), "");
        station.signal(SIGTERM);
        EXPECT_EQ(station.wait(10s), 0);
    }
    command[2] = "exec \"$0\" run --lines \"$2\" --set 'audio.device=a card of nowhere' 2> \"$3\"";
    faults::Child station(command);
    EXPECT_EQ(station.hear("sound device", 5s), "sound device \"a card of nowhere\": this waits for it until it is there");
    station.signal(SIGTERM);
    EXPECT_EQ(station.wait(10s), 0);
}

TEST_F(TheStation, EndsWithTwoWhenItsLinesCanNotBeHad) {
    lines = (folder / "directory").string();
    fs::create_directory(lines);
    faults::Child station(run("testdata/evening.flac"));
    const int status = station.wait(20s);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 2) << text_of(log);
}

/// A WAV file of 32-bit floats, two channels, 8000 Hz, one second, with one broken sample.
void write_broken(const std::string& path) {
    std::vector<float> samples(16000);
    samples[8192] = std::numeric_limits<float>::quiet_NaN();
    const auto size = static_cast<std::uint32_t>(samples.size() * sizeof(float));
    std::ofstream file(path, std::ios::binary);
    const auto put = [&](auto value) { file.write(reinterpret_cast<const char*>(&value), sizeof value); };
    file << "RIFF";
    put(std::uint32_t{36 + size});
    file << "WAVEfmt ";
    put(std::uint32_t{16});
    put(std::uint16_t{3});  // IEEE float
    put(std::uint16_t{2});
    put(std::uint32_t{8000});
    put(std::uint32_t{64000});
    put(std::uint16_t{8});
    put(std::uint16_t{32});
    file << "data";
    put(size);
    file.write(reinterpret_cast<const char*>(samples.data()), size);
}

TEST_F(TheStation, EndsWithTwoWhenTheRecordingIsDamaged) {
    const std::string broken = (folder / "broken.wav").string();
    write_broken(broken);
    faults::Child station(run(broken));
    const int status = station.wait(20s);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 2);
    const std::string said = text_of(log);
    EXPECT_NE(said.find("recording ended early: " + broken), std::string::npos) << said;
}

}  // namespace
}  // namespace tripline::cli
