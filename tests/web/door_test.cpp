// Who is let in to the page.
#include "daemon/web/door.h"
#include "daemon/web/server.h"
#include "daemon/web/token.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <set>

namespace tripline::web {
namespace {

const Rules rules{.hosts = {"127.0.0.1:8571", "localhost:8571"}, .token = "right-right-right", .token_to_read = false};

Head reading(const std::string& path = "/") {
    Head head;
    head.method = "GET";
    head.path = path;
    head.host = "127.0.0.1:8571";
    return head;
}

Head changing() {
    Head head = reading("/api");
    head.method = "POST";
    head.origin = "http://127.0.0.1:8571";
    head.fetch_site = "same-origin";
    head.content_type = "application/json";
    head.authorization = "Bearer right-right-right";
    head.content_length = "30";
    return head;
}

TEST(TheDoor, IsOpenForThePageAndForWhoeverHasTheToken) {
    EXPECT_EQ(admit(reading(), rules).status, 200U);
    EXPECT_EQ(admit(changing(), rules).status, 200U);
}

TEST(TheDoor, IsShutForANameOfAnotherPage) {  // DNS rebinding: the browser asks for evil.example
    for (const char* host : {"evil.example", "evil.example:8571", "127.0.0.1", "127.0.0.1:80", ""}) {
        Head head = reading();
        head.host = host;
        EXPECT_EQ(admit(head, rules).status, 421U) << host;
    }
}

TEST(TheDoor, IsShutForRequestsFromAnotherPage) {
    for (const char* origin : {"http://evil.example", "null", "https://127.0.0.1:8572", "http://127.0.0.1:8571.evil.example"}) {
        Head head = changing();
        head.origin = origin;
        EXPECT_EQ(admit(head, rules).status, 403U) << origin;
    }
    Head head = changing();
    head.origin.clear();
    head.fetch_site = "cross-site";
    EXPECT_EQ(admit(head, rules).status, 403U);
}

TEST(TheDoor, IsShutForChangesWithoutTheToken) {
    for (const char* given : {"", "Bearer ", "Bearer wrong", "right-right-right", "Bearer right-right-righ",
                              "Bearer right-right-rightright-right-right"}) {
        Head head = changing();
        head.authorization = given;
        EXPECT_EQ(admit(head, rules).status, 401U) << given;
    }
}

TEST(TheDoor, AsksForTheTokenToReadAsWellWhenServedBeyondThisComputer) {
    Rules far = rules;
    far.token_to_read = true;
    EXPECT_EQ(admit(reading("/"), far).status, 200U) << "the page itself tells nothing";
    EXPECT_EQ(admit(reading("/api/levels"), far).status, 401U);
    EXPECT_EQ(admit(reading("/metrics"), far).status, 401U);
}

TEST(TheDoor, IsShutForLongBodiesForFormsAndForOtherMethods) {
    Head head = changing();
    for (const char* length : {"4097", "99999999999999999999", "-1", "1e3", " 3"}) {
        head.content_length = length;
        EXPECT_EQ(admit(head, rules).status, 413U) << length;
    }
    head = changing();
    head.content_type = "application/x-www-form-urlencoded";
    EXPECT_EQ(admit(head, rules).status, 415U);
    for (const char* method : {"PUT", "DELETE", "OPTIONS", "TRACE", "get"}) {
        head = changing();
        head.method = method;
        EXPECT_EQ(admit(head, rules).status, 405U) << method;
    }
}

TEST(TheHosts, AreTheAddressItsNamesAndNoOthers) {
    Settings settings;
    settings.port = 8571;
    EXPECT_EQ(hosts_of(settings), (std::vector<std::string>{"127.0.0.1:8571", "localhost:8571"}));
    settings.address = "::1";
    EXPECT_EQ(hosts_of(settings), (std::vector<std::string>{"[::1]:8571", "localhost:8571"}));
    settings.address = "192.0.2.7";
    settings.name = "harrow-ness.example";
    EXPECT_EQ(hosts_of(settings),
              (std::vector<std::string>{"192.0.2.7:8571", "harrow-ness.example", "harrow-ness.example:8571"}));
}

TEST(TheToken, IsNeverTheSameTwice) {
    std::set<std::string> tokens;
    for (int i = 0; i < 100; ++i) tokens.insert(make_token());
    EXPECT_EQ(tokens.size(), 100U);
    EXPECT_EQ(tokens.begin()->size(), 32U);
    EXPECT_FALSE(same("", ""));
}

TEST(TheToken, OfAFileIsLongAndNotForEverybody) {
    const auto file = std::filesystem::temp_directory_path() / ("tripline-token-" + std::to_string(::getpid()));
    const auto write = [&](const std::string& text, unsigned mode) {
        std::ofstream(file) << text;
        ::chmod(file.c_str(), mode);
    };
    write("lighthouse-cottage\n", 0640);
    EXPECT_EQ(read_token(file), "lighthouse-cottage");
    write("lighthouse-cottage\n", 0644);
    EXPECT_THROW(read_token(file), std::runtime_error);
    for (const char* text : {"", "short\n", "with a space in the middle\n"}) {
        write(text, 0640);
        EXPECT_THROW(read_token(file), std::runtime_error) << text;
    }
    std::filesystem::remove(file);
    EXPECT_THROW(read_token(file), std::runtime_error);
    ASSERT_EQ(::mkfifo(file.c_str(), 0600), 0);
    EXPECT_THROW(read_token(file), std::runtime_error) << "nobody writes to the pipe, and it is not waited for";
    std::filesystem::remove(file);
}

TEST(TheServer, WantsATokenFileBeyondThisComputer) {
    control::Desk desk;
    Settings settings;
    settings.port = 8571;
    settings.address = "0.0.0.0";
    EXPECT_THROW(Server(settings, desk), std::runtime_error);
    settings.address = "cottage";
    EXPECT_THROW(Server(settings, desk), std::runtime_error);
}

}  // namespace
}  // namespace tripline::web
