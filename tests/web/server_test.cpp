// The page's server over real connections, with a desk at which this test plays the service.
#include "daemon/web/server.h"

#include "daemon/lines/descriptor.h"

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>

#include <atomic>
#include <cstdio>
#include <thread>

namespace tripline::web {
namespace {

/// A port that is free at this moment.
int free_port() {
    const lines::Descriptor probe(::socket(AF_INET, SOCK_STREAM, 0));
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    ::bind(probe.get(), reinterpret_cast<sockaddr*>(&address), sizeof address);
    socklen_t size = sizeof address;
    ::getsockname(probe.get(), reinterpret_cast<sockaddr*>(&address), &size);
    return ntohs(address.sin_port);
}

struct ThePageServer : testing::Test {
    Settings settings;
    control::Desk desk;
    std::vector<station::Mode> modes;
    std::atomic<bool> slow{false};  // the service answers nothing but a safe
    std::atomic<bool> stuck{false};  // not even a safe, as while the guard does not tell that the key is open
    std::atomic<int> safes{0};       // taken so far
    std::vector<control::Desk::Asked> unanswered;
    std::jthread service;
    std::unique_ptr<Server> server;
    std::string token;

    void start(bool may_transmit = false) {
        settings.port = free_port();
        settings.may_transmit = may_transmit;
        server = std::make_unique<Server>(settings, desk);
        token = server->address().substr(server->address().find('#') + 1);
        service = std::jthread([this](const std::stop_token& stop) {
            for (; !stop.stop_requested(); ::poll(nullptr, 0, 5)) {
                while (auto asked = desk.next()) {
                    if (asked->request.is_safe()) ++safes;
                    if (stuck || (slow && !asked->request.is_safe())) {
                        unanswered.push_back(std::move(*asked));
                        continue;
                    }
                    modes.push_back(asked->request.mode);
                    asked->answer->set_value({true, {}});
                }
            }
        });
    }
    lines::Descriptor connect() const {
        lines::Descriptor socket(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0));
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        address.sin_port = htons(static_cast<std::uint16_t>(settings.port));
        EXPECT_EQ(::connect(socket.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
        return socket;
    }
    /// Everything that comes until the end of the connection.
    std::string talk(const std::string& request) const {
        const lines::Descriptor socket = connect();
        ::send(socket.get(), request.data(), request.size(), MSG_NOSIGNAL);
        std::string heard;
        char part[4096];
        pollfd waiting{.fd = socket.get(), .events = POLLIN, .revents = 0};
        while (::poll(&waiting, 1, 5000) == 1) {
            const ssize_t got = ::recv(socket.get(), part, sizeof part, 0);
            if (got <= 0) break;
            heard.append(part, static_cast<std::size_t>(got));
        }
        return heard;
    }
    std::string host() const { return "127.0.0.1:" + std::to_string(settings.port); }
    std::string get(const std::string& path, const std::string& more = {}) const {
        return talk("GET " + path + " HTTP/1.1\r\nHost: " + host() + "\r\nConnection: close\r\n" + more + "\r\n");
    }
    std::string post(const std::string& path, const std::string& body, const std::string& more = {}) const {
        return talk("POST " + path + " HTTP/1.1\r\nHost: " + host() + "\r\nConnection: close\r\nContent-Type: application/json\r\n" +
                    "Authorization: Bearer " + token + "\r\nContent-Length: " + std::to_string(body.size()) + "\r\n" + more +
                    "\r\n" + body);
    }
    /// Others, each of whose settings takes its time.
    std::vector<std::jthread> eight_who_wait() {
        slow = true;
        std::vector<std::jthread> others;
        for (int i = 0; i < 8; ++i) others.emplace_back([this] { post("/api", R"({"do":"set","key":"gate.hold_ms","value":"900"})"); });
        ::poll(nullptr, 0, 100);
        return others;
    }
};

TEST_F(ThePageServer, ServesThePageWithoutLettingItAskAnybodyElse) {
    start();
    const std::string page = get("/");
    EXPECT_NE(page.find("200 OK"), std::string::npos) << page;
    EXPECT_NE(page.find("Content-Security-Policy: default-src 'none'"), std::string::npos);
    EXPECT_EQ(page.find("Access-Control-Allow-Origin"), std::string::npos);
    EXPECT_NE(page.find("Receive now"), std::string::npos);
    for (const char* file : {"/page.css", "/page.js", "/chart.js"}) {
        EXPECT_NE(get(file).find("200 OK"), std::string::npos) << file;
    }
    EXPECT_NE(get("/etc/passwd").find("404"), std::string::npos);
}

TEST_F(ThePageServer, GivesLevelsFromANumberOn) {
    start();
    control::StationView view;
    view.rate = Hertz{48000};
    desk.show(view);
    audio::LevelFrame frame;
    frame.at = Frames{48000};
    desk.level(frame);
    EXPECT_NE(get("/api/levels").find(R"({"levels":[[1.0,-200.0,)"), std::string::npos) << get("/api/levels");
    EXPECT_NE(get("/api/levels?since=1").find(R"({"levels":[],"next":1})"), std::string::npos);
}

TEST_F(ThePageServer, TellsBesideTheLevelsOfAForcedKeyAndHowLongItIsClosed) {
    start();
    control::StationView view;
    view.rate = Hertz{48000};
    desk.show(view);
    audio::LevelFrame frame;
    frame.at = Frames{480000};
    frame.key = true;
    desk.level(frame);
    frame.mode = station::Mode::keyed;
    frame.on_air = Frames{24000};
    desk.level(frame);
    EXPECT_NE(get("/api/levels").find(R"(,1,"quiet",0,0.0],)"), std::string::npos) << get("/api/levels");
    EXPECT_NE(get("/api/levels").find(R"(,1,"quiet",1,0.5]])"), std::string::npos) << get("/api/levels");
}

TEST_F(ThePageServer, PassesModesOnWithTheTokenOnly) {
    start();
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
    const std::string right = std::exchange(token, "wrong-wrong-wrong");
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"armed"})").find("401"), std::string::npos);
    token = right;
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"armed"})", "Origin: http://evil.example\r\n").find("403"), std::string::npos);
    service = {};
    EXPECT_EQ(modes, std::vector<station::Mode>{station::Mode::safe});
}

TEST_F(ThePageServer, TellsWhetherTheStationHasAReceiver) {
    start();
    EXPECT_NE(get("/api/status").find("\"receiver\":true"), std::string::npos) << "nothing is known yet";
    config::Settings deaf;
    deaf.audio.receiver_channel = 0;
    control::StationView view;
    view.settings = std::make_shared<const config::Settings>(deaf);
    desk.show(std::move(view));
    EXPECT_NE(get("/api/status").find("\"receiver\":false"), std::string::npos);
}

TEST_F(ThePageServer, ForcesTheKeyOnlyWhereTheSettingsSaySo) {
    start();
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"keyed"})").find("403"), std::string::npos);
    EXPECT_NE(get("/api/status").find("\"may_transmit\":false"), std::string::npos);
    server.reset();
    start(true);
    EXPECT_NE(get("/api/status").find("\"may_transmit\":true"), std::string::npos);
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"keyed"})").find("\"ok\":true"), std::string::npos);
}

TEST_F(ThePageServer, EndsWhatIsTooLong) {
    start();
    EXPECT_NE(post("/api", std::string(longest_body + 1, ' ')).find("413"), std::string::npos);
    EXPECT_EQ(get("/", "X-Long: " + std::string(100'000, 'x') + "\r\n").find("200 OK"), std::string::npos);
    std::string pieces = "POST /api HTTP/1.1\r\nHost: " + host() + "\r\nContent-Type: application/json\r\nAuthorization: Bearer " +
                         token + "\r\nTransfer-Encoding: chunked\r\n\r\n";
    for (int i = 0; i < 10; ++i) pieces += "400\r\n" + std::string(1024, ' ') + "\r\n";
    EXPECT_EQ(talk(pieces + "0\r\n\r\n").find("200 OK"), std::string::npos);
    EXPECT_TRUE(modes.empty());
}

TEST_F(ThePageServer, SlowsDownAFloodButNotTheTokensOwner) {
    start();
    int refused = 0;
    for (int i = 0; i < 600; ++i) refused += get("/api/status").find("429") != std::string::npos ? 1 : 0;
    EXPECT_GT(refused, 0);
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
}

TEST_F(ThePageServer, LetsTheOperatorInPastAnyNumberOfRequestsWithoutAnEnd) {
    start();
    constexpr std::string_view beginning = "GET / HTTP/1.1\r\nX: ";
    std::vector<lines::Descriptor> endless;
    for (unsigned i = 0; i < most_connections + 100; ++i) {
        endless.push_back(connect());
        ::send(endless.back().get(), beginning.data(), beginning.size(), MSG_NOSIGNAL);
    }
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
}

// A setting is answered once it is in force, which may take half a second, and so may a forced key.
TEST_F(ThePageServer, DoesNotLetASafeWaitBehindWhatTakesItsTime) {
    start();
    const auto others = eight_who_wait();
    const auto began = std::chrono::steady_clock::now();
    EXPECT_NE(post("/api", R"({"do":"mode","mode":"safe"})").find("\"ok\":true"), std::string::npos);
    const auto waited = std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() - began);
    std::printf("a safe was answered after %d ms\n", static_cast<int>(waited.count()));
    EXPECT_LT(waited, std::chrono::milliseconds{300});
}

// It is answered once the guard has told that the key is open, which a guard that stands still never does.
TEST_F(ThePageServer, TakesASafeAndShowsTheStationWhileOthersWaitForTheAnswerToTheirs) {
    start();
    stuck = true;
    std::vector<std::jthread> others;
    for (int i = 0; i < 8; ++i) others.emplace_back([this] { post("/api", R"({"do":"mode","mode":"safe"})"); });
    ::poll(nullptr, 0, 200);
    EXPECT_EQ(safes, 8);
    const auto began = std::chrono::steady_clock::now();
    EXPECT_NE(get("/api/status", "Authorization: Bearer " + token + "\r\n").find("200 OK"), std::string::npos);
    EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::milliseconds{200});
}

TEST_F(ThePageServer, AnswersWhatTookItsTimeOnTheConnectionThatAsked) {
    start();
    slow = true;
    const std::string heard = post("/api", R"({"id":7,"do":"set","key":"gate.hold_ms","value":"900"})");
    EXPECT_NE(heard.find("200 OK"), std::string::npos) << heard;
    EXPECT_NE(heard.find(R"("id":7)"), std::string::npos) << heard;
    EXPECT_NE(heard.find("the daemon did not answer in time"), std::string::npos) << heard;
}

TEST_F(ThePageServer, EndsSoonWhileSomebodyWaitsForAnAnswer) {
    start();
    const auto others = eight_who_wait();
    const auto began = std::chrono::steady_clock::now();
    server.reset();
    EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::seconds{1});
}

TEST_F(ThePageServer, EndsAtOnceWithConnectionsOpen) {
    start();
    std::vector<lines::Descriptor> idle;
    for (unsigned i = 0; i < most_connections + 10; ++i) idle.push_back(connect());
    const auto began = std::chrono::steady_clock::now();
    server.reset();
    EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::seconds{1});
}

TEST(TheWaitingRoom, SendsAwayWhoWasServedLongestAgo) {
    WaitingRoom room(3);
    for (const int connection : {1, 2, 3}) EXPECT_EQ(room.came(connection), -1);
    room.served(1);
    EXPECT_EQ(room.came(4), 2);
    room.left(3);
    EXPECT_EQ(room.came(5), -1);
    EXPECT_EQ(room.came(6), 1);
    room.served(2);  // gone already
    EXPECT_EQ(room.came(7), 4);
}

}  // namespace
}  // namespace tripline::web
