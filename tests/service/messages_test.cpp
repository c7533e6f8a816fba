#include "daemon/service/messages.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <sstream>

namespace tripline::service {
namespace {

std::string chapter() {
    std::ostringstream text;
    text << std::ifstream("daemon/manual/messages.md").rdbuf();
    return text.str();
}

TEST(TheManual, ExplainsEveryMessage) {
    const std::string manual = chapter();
    ASSERT_FALSE(manual.empty()) << "daemon/manual/messages.md is missing";
    for (const MessageText& message : all_messages) {
        EXPECT_NE(manual.find("### `" + std::string(message.text) + "`"), std::string::npos) << message.text;
    }
}

TEST(TheManual, ExplainsNoMessageThatIsGone) {
    std::set<std::string> texts;
    for (const MessageText& message : all_messages) texts.emplace(message.text);
    std::istringstream manual(chapter());
    for (std::string line; std::getline(manual, line);) {
        if (!line.starts_with("### `")) continue;
        EXPECT_TRUE(texts.contains(line.substr(5, line.size() - 6))) << line;
    }
}

TEST(TheMessages, ReadWellWithACountOfOne) {
    for (const MessageText& message : all_messages) {
        const auto count = message.text.find("{}");
        if (message.text.find("so far") == std::string_view::npos) continue;
        EXPECT_TRUE(message.text.ends_with("so far: {}") && count == message.text.size() - 2) << message.text;
    }
}

TEST(TheMessages, AreAllDifferent) {
    std::set<std::string_view> texts;
    for (const MessageText& message : all_messages) EXPECT_TRUE(texts.insert(message.text).second) << message.text;
}

}  // namespace
}  // namespace tripline::service
