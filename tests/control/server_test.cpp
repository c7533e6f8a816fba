// The control socket with a desk at which this test plays the service.
#include "daemon/control/server.h"
#include "tests/control/near_end.h"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <deque>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace tripline::control {
namespace {

struct TheControlSocket : testing::Test {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("tripline-control-" + std::to_string(::getpid()));
    std::string path = (folder / "control.sock").string();
    Desk desk;
    std::vector<std::string> obeyed;
    std::jthread service;

    void SetUp() override {
        std::filesystem::remove_all(folder);  // of a run that was ended in its midst, by another process of this number
        std::filesystem::create_directory(folder);
        StationView view;
        view.phase = "running";
        view.rate = Hertz{48000};
        desk.show(view);
    }
    void TearDown() override {
        service = {};
        std::filesystem::remove_all(folder);
    }
    /// Obeys everything.
    void start_service() {
        service = std::jthread([this](const std::stop_token& stop) {
            for (; !stop.stop_requested(); ::poll(nullptr, 0, 5)) {
                while (auto asked = desk.next()) {
                    obeyed.emplace_back(name(asked->request.verb));
                    asked->answer->set_value({true, {}});
                }
            }
        });
    }
};

TEST_F(TheControlSocket, GreetsAndTellsTheStatus) {
    const Server server(path, desk);
    NearEnd client(path);
    EXPECT_NE(client.hear("tripline").find("\"tripline\":1"), std::string::npos);
    const std::string status = client.ask(R"({"do":"status","id":5})");
    EXPECT_NE(status.find(R"("re":"status","id":5,"ok":true)"), std::string::npos) << status;
    EXPECT_NE(status.find(R"("phase":"running")"), std::string::npos) << status;
}

TEST_F(TheControlSocket, IsNoBodysButTheOwnersAndTheGroups) {
    const Server server(path, desk);
    struct stat there{};
    ASSERT_EQ(::stat(path.c_str(), &there), 0);
    EXPECT_EQ(there.st_mode & 07U, 0U);
}

TEST_F(TheControlSocket, PassesModesOnAndAnswersWhenTheyAreTaken) {
    start_service();
    const Server server(path, desk);
    NearEnd client(path);
    EXPECT_NE(client.ask(R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
    service = {};
    EXPECT_EQ(obeyed, std::vector<std::string>{"mode"});
}

TEST_F(TheControlSocket, SavesWhatWasSetIntoTheSettingsFile) {
    start_service();
    StationView view = desk.view();
    view.settings_file = (folder / "station.toml").string();
    view.set = {"gate.hold_ms=2000"};
    std::ofstream(view.settings_file) << "[gate]\nhold_ms = 1500   # as usual\n";
    desk.show(view);
    const Server server(path, desk);
    NearEnd client(path);
    const std::string answer = client.ask(R"({"do":"save"})");
    EXPECT_NE(answer.find("1 setting written to "), std::string::npos) << answer;
    service = {};
    EXPECT_EQ(obeyed, std::vector<std::string>{"saved"});
    std::stringstream text;
    text << std::ifstream(view.settings_file).rdbuf();
    EXPECT_EQ(text.str(), "[gate]\nhold_ms = 2000   # as usual\n");
}

TEST_F(TheControlSocket, SaysWhyNothingWasSaved) {
    const Server server(path, desk);
    NearEnd client(path);
    const std::string answer = client.ask(R"({"do":"save"})");
    EXPECT_NE(answer.find("without a settings file"), std::string::npos) << answer;
}

TEST_F(TheControlSocket, SaysSoWhenTheServiceDoesNotAnswerAndNeverKeysLater) {
    const Server server(path, desk);
    NearEnd client(path);
    const std::string answer = client.ask(R"({"do":"mode","mode":"keyed"})");
    EXPECT_NE(answer.find("did not answer in time"), std::string::npos) << answer;
    EXPECT_FALSE(desk.next());
}

TEST_F(TheControlSocket, LetsNobodyWaitForTheChangeOfAnother) {
    const Server server(path, desk);
    NearEnd first(path);
    first.say("{\"do\":\"mode\",\"mode\":\"keyed\"}\n{\"do\":\"status\",\"id\":7}\n");
    std::optional<Desk::Asked> keyed;
    for (int i = 0; i < 500 && !keyed; ++i, ::poll(nullptr, 0, 1)) keyed = desk.next();
    ASSERT_TRUE(keyed);   // and not answered
    NearEnd second(path);
    second.say("{\"do\":\"mode\",\"mode\":\"safe\"}\n");
    std::optional<Desk::Asked> safe;
    for (int i = 0; i < 300 && !safe; ++i, ::poll(nullptr, 0, 1)) safe = desk.next();
    ASSERT_TRUE(safe);
    EXPECT_TRUE(safe->request.is_safe());
    safe->answer->set_value({true, {}});
    EXPECT_NE(second.hear("\"ok\""), "");
    keyed->answer->set_value({false, "safe"});
    EXPECT_NE(first.hear("\"ok\":false"), "");    // then what it said after it
    EXPECT_NE(first.hear("\"id\":7").find("\"re\":\"status\""), std::string::npos);
}

TEST_F(TheControlSocket, LetsASafeGoBeforeWhatTheSameClientSaidBeforeIt) {
    const Server server(path, desk);
    NearEnd client(path);
    std::string packet;
    for (int i = 0; i < 20; ++i) packet += "{\"do\":\"mode\",\"mode\":\"keyed\"}\n{\"do\":\"mode\",\"mode\":\"armed\"}\n";
    client.say(packet + "{\"do\":\"mode\",\"mode\":\"safe\",\"id\":1}\n{\"do\":\"status\",\"id\":2}\n");
    std::vector<Desk::Asked> asked;   // and none of them answered
    for (int i = 0; i < 300 && (asked.empty() || !asked.back().request.is_safe()); ++i, ::poll(nullptr, 0, 1))
        if (auto next = desk.next()) asked.push_back(std::move(*next));
    ASSERT_FALSE(asked.empty());
    ASSERT_TRUE(asked.back().request.is_safe());
    EXPECT_LE(asked.size(), 2U) << "a key may have gone before it";
    for (const auto& one : asked) one.answer->set_value({true, {}});
    for (int i = 0; i < 39; ++i) EXPECT_NE(client.hear("before its turn"), "") << i;
    std::optional<Desk::Asked> safe;  // in its turn
    for (int i = 0; i < 300 && !safe; ++i, ::poll(nullptr, 0, 1)) safe = desk.next();
    ASSERT_TRUE(safe);
    EXPECT_TRUE(safe->request.is_safe());
    safe->answer->set_value({true, {}});
    EXPECT_NE(client.hear("\"id\":1").find("\"ok\":true"), std::string::npos);
    EXPECT_NE(client.hear("\"id\":2"), "");
}

TEST_F(TheControlSocket, HearsASafeThatIsSaidWhileAKeyWaitsForItsAnswer) {
    const Server server(path, desk);
    NearEnd client(path);
    client.say("{\"do\":\"mode\",\"mode\":\"keyed\"}\n");
    std::optional<Desk::Asked> keyed;
    for (int i = 0; i < 300 && !keyed; ++i, ::poll(nullptr, 0, 1)) keyed = desk.next();
    ASSERT_TRUE(keyed);   // and not answered
    client.say("{\"do\":\"mode\",\"mode\":\"safe\"}\n");
    std::optional<Desk::Asked> safe;
    for (int i = 0; i < 300 && !safe; ++i, ::poll(nullptr, 0, 1)) safe = desk.next();
    ASSERT_TRUE(safe);
    EXPECT_TRUE(safe->request.is_safe());
}

TEST_F(TheControlSocket, HearsASafeSaidBehindAKeyByOneThatLeft) {
    const Server server(path, desk);
    {
        NearEnd client(path);
        client.hear("tripline");
        client.say("{\"do\":\"mode\",\"mode\":\"keyed\"}\n{\"do\":\"mode\",\"mode\":\"safe\"}\n");
    }
    std::optional<Desk::Asked> asked;
    for (int i = 0; i < 2000; ++i, ::poll(nullptr, 0, 1)) {
        asked = desk.next();
        if (asked && asked->request.is_safe()) break;
        if (asked) asked->answer->set_value({true, {}});
    }
    ASSERT_TRUE(asked);
    EXPECT_TRUE(asked->request.is_safe());
}

TEST_F(TheControlSocket, HearsTheSafeOfOneThatLeftBeforeTheGreeting) {
    const Server server(path, desk);
    constexpr int callers = 50;   // most of them leave before the server's thread has woken
    for (int i = 0; i < callers; ++i) NearEnd(path).say("{\"do\":\"mode\",\"mode\":\"safe\"}\n");
    int safes = 0;
    for (int i = 0; i < 3000 && safes < callers; ++i, ::poll(nullptr, 0, 1)) {
        while (const auto asked = desk.next()) {
            ASSERT_TRUE(asked->request.is_safe());
            asked->answer->set_value({true, {}});
            ++safes;
        }
    }
    EXPECT_EQ(safes, callers);
}

TEST_F(TheControlSocket, KeepsASafeThatWaitedLong) {
    const Server server(path, desk);
    NearEnd client(path);
    client.ask(R"({"do":"mode","mode":"safe"})");
    const auto asked = desk.next();
    ASSERT_TRUE(asked);
    EXPECT_TRUE(asked->request.is_safe());
}

TEST_F(TheControlSocket, SendsLevelsAndEventsToThoseWhoAskForThem) {
    const Server server(path, desk);
    NearEnd client(path);
    client.ask(R"({"do":"levels"})");
    client.ask(R"({"do":"events"})");
    audio::LevelFrame frame;
    frame.at = Frames{480};
    desk.level(frame);
    desk.event(R"({"frame":1})");
    EXPECT_NE(client.hear("\"level\"").find("\"frame\":480"), std::string::npos);
    EXPECT_EQ(client.hear("\"event\""), R"({"event":{"frame":1}})");
    client.ask(R"({"do":"levels","on":false})");
    desk.level(frame);
    EXPECT_EQ(client.hear("\"level\"", 200), "");
}

TEST_F(TheControlSocket, ReplacesASocketThatNobodyAnswersAt) {
    {
        const lines::Descriptor left(::socket(AF_UNIX, SOCK_STREAM, 0));
        sockaddr_un address{};
        address.sun_family = AF_UNIX;
        std::memcpy(address.sun_path, path.data(), path.size());
        ASSERT_EQ(::bind(left.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
    }
    const Server server(path, desk);
    EXPECT_TRUE(NearEnd(path).connected());
}

TEST_F(TheControlSocket, TakesNoOthersPlace) {
    const Server first(path, desk);
    EXPECT_THROW(Server(path, desk), std::runtime_error);
    EXPECT_TRUE(NearEnd(path).connected());
    std::ofstream(folder / "letter") << "dear Ilse";
    EXPECT_THROW(Server((folder / "letter").string(), desk), std::runtime_error);
}

TEST_F(TheControlSocket, IsGoneAfterItsServer) {
    { const Server server(path, desk); }
    EXPECT_FALSE(std::filesystem::exists(path));
}

TEST_F(TheControlSocket, EndsTheConnectionOfOneWhoTalksNonsense) {
    const Server server(path, desk);
    NearEnd client(path);
    for (int i = 0; i < most_mistakes; ++i) client.say("nonsense\n");
    EXPECT_TRUE(client.ended());
    EXPECT_EQ(server.dropped(), 1U);
}

TEST_F(TheControlSocket, EndsTheConnectionOfALineThatIsTooLong) {
    const Server server(path, desk);
    NearEnd client(path);
    client.say(std::string(longest_line + 10, ' '));
    EXPECT_NE(client.hear("too long"), "");
    EXPECT_TRUE(client.ended());
}

TEST_F(TheControlSocket, EndsTheConnectionOfAFlood) {
    const Server server(path, desk);
    NearEnd client(path);
    std::string flood;
    for (int i = 0; i < 2000; ++i) flood += "{\"do\":\"status\"}\n";
    client.say(flood);
    EXPECT_NE(client.hear("too many lines"), "");
    EXPECT_TRUE(client.ended());
}

TEST_F(TheControlSocket, DropsOneWhoDoesNotReadAndServesTheRest) {
    const Server server(path, desk);
    NearEnd sleeper(path);
    NearEnd reader(path);
    sleeper.ask(R"({"do":"events"})");
    const std::string event = "{\"text\":\"" + std::string(4000, 'x') + "\"}";
    for (int i = 0; i < 400 && server.dropped() == 0; ++i, ::poll(nullptr, 0, 5)) desk.event(event);
    EXPECT_NE(reader.ask(R"({"do":"status"})"), "");
    EXPECT_TRUE(sleeper.ended());
}

TEST_F(TheControlSocket, GivesANewcomerThePlaceOfTheMostSilent) {
    const Server server(path, desk);
    std::vector<std::unique_ptr<NearEnd>> clients;
    for (std::size_t i = 0; i < most_clients; ++i) {
        clients.push_back(std::make_unique<NearEnd>(path));
        clients.back()->hear("tripline");
    }
    clients.front()->ask(R"({"do":"status"})");
    ::poll(nullptr, 0, static_cast<int>(time_to_speak / 1ms) + 50);
    NearEnd newcomer(path);
    EXPECT_NE(newcomer.ask(R"({"do":"status"})"), "");
    EXPECT_TRUE(clients[1]->ended());
    EXPECT_NE(clients.front()->ask(R"({"do":"status"})"), "");
}

TEST_F(TheControlSocket, HearsOneWhoSpeaksAMomentAfterHeCameAmongOthersWhoComeAndAsk) {
    start_service();
    const Server server(path, desk);
    std::vector<std::unique_ptr<NearEnd>> others;
    int answered = 0, tried = 0;
    for (; tried < 5; ++tried) {
        NearEnd late(path);
        late.hear("tripline");
        const auto came = std::chrono::steady_clock::now();
        others.clear();
        for (std::size_t i = 0; i < 2 * most_clients; ++i) {
            others.push_back(std::make_unique<NearEnd>(path));
            others.back()->ask(R"({"do":"status"})");
        }
        const bool answer = late.ask(R"({"do":"mode","mode":"safe"})").find("\"ok\":true") != std::string::npos;
        if (std::chrono::steady_clock::now() - came > time_to_speak) continue;  // a machine as slow as that shows nothing
        EXPECT_TRUE(answer);
        ++answered;
    }
    if (answered == 0) GTEST_SKIP() << "the machine was too slow";
}

// The guard may take its time to tell that the key is open, and the answer is worth more than any other.
TEST_F(TheControlSocket, AnswersASafeThoughNewcomersNeedThePlace) {
    const Server server(path, desk);
    NearEnd operators(path);
    operators.hear("tripline");
    operators.say("{\"do\":\"mode\",\"mode\":\"safe\"}\n");
    ::poll(nullptr, 0, 100);
    std::vector<std::unique_ptr<NearEnd>> newcomers;
    for (std::size_t i = 0; i < 2 * most_clients; ++i) {
        newcomers.push_back(std::make_unique<NearEnd>(path));
        newcomers.back()->hear("tripline");
    }
    start_service();
    EXPECT_NE(operators.hear("\"ok\"").find("\"ok\":true"), std::string::npos);
}

TEST_F(TheControlSocket, LetsOnlySoManyChangesThroughButEverySafe) {
    start_service();
    const Server server(path, desk);
    NearEnd client(path);
    int refused = 0;
    for (int i = 0; i < 40; ++i) {
        const bool good = client.ask(R"({"do":"mode","mode":"armed"})").find("\"ok\":true") != std::string::npos;
        refused += good ? 0 : 1;
    }
    EXPECT_GT(refused, 5);
    for (int i = 0; i < 10; ++i) {
        EXPECT_NE(client.ask(R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
    }
}

TEST_F(TheControlSocket, RefusesWhenTheDaemonEnds) {
    const Server server(path, desk);
    NearEnd client(path);
    desk.close();
    EXPECT_NE(client.ask(R"({"do":"mode","mode":"safe"})").find("the daemon is ending"), std::string::npos);
}

/// No new descriptor of this process while it lives. What is open stays.
class NoDescriptors {
public:
    explicit NoDescriptors(rlim_t most) {
        ::getrlimit(RLIMIT_NOFILE, &before_);
        const rlimit none{most, before_.rlim_max};
        ::setrlimit(RLIMIT_NOFILE, &none);
    }
    ~NoDescriptors() { ::setrlimit(RLIMIT_NOFILE, &before_); }
    NoDescriptors(const NoDescriptors&) = delete;
    NoDescriptors& operator=(const NoDescriptors&) = delete;

private:
    rlimit before_{};
};

Duration worked() {
    timespec time{};
    ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return std::chrono::seconds{time.tv_sec} + std::chrono::nanoseconds{time.tv_nsec};
}

/// Above all descriptors that this process has.
rlim_t first_free() {
    const lines::Descriptor next(::dup(0));
    return static_cast<rlim_t>(next.get());
}

TEST_F(TheControlSocket, DoesNotSpinWhileNoDescriptorIsLeftAndGoesOnAfterwards) {
    const Server server(path, desk);
    ASSERT_FALSE(NearEnd(path).hear("tripline").empty());
    NearEnd client(path, NearEnd::Later{});
    {
        const NoDescriptors none(3);
        const Duration before = worked();
        ASSERT_TRUE(client.connect());
        EXPECT_TRUE(client.hear("tripline", 500).empty());
        EXPECT_LT(worked() - before, std::chrono::milliseconds{100});
        EXPECT_GT(server.tight(), 1U);
        EXPECT_LT(server.tight(), 50U);
    }
    EXPECT_FALSE(client.hear("tripline").empty());
}

TEST_F(TheControlSocket, TakesASafeThoughNoDescriptorIsLeft) {
    start_service();
    const Server server(path, desk);
    NearEnd first(path);
    // The sanitizer looks at an object's type through a pipe, for which no descriptor is left below; what it has seen it knows.
    EXPECT_NE(first.ask(R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
    std::deque<NearEnd> more;
    for (int i = 0; i < 3; ++i) more.emplace_back(path, NearEnd::Later{});
    ::poll(nullptr, 0, 100);
    const NoDescriptors none(first_free());
    for (NearEnd& client : more) {
        ASSERT_TRUE(client.connect());
        EXPECT_NE(client.ask(R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
    }
    EXPECT_GT(server.tight(), 0U);
}

}  // namespace
}  // namespace tripline::control
