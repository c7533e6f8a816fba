// Files that are no configuration.
#include "config/file_text.h"
#include "tests/config/support.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>

namespace tripline::config {
namespace {

namespace fs = std::filesystem;

class AFile : public ::testing::Test {
protected:
    void SetUp() override {
        auto pattern = (fs::temp_directory_path() / "tripline-config-XXXXXX").string();
        ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
        folder_ = pattern;
    }
    void TearDown() override { fs::remove_all(folder_); }

    /// What loading `name` in the folder says, without the folder.
    std::string said(const std::string& name) {
        const auto loaded = load(folder_ / name);
        EXPECT_FALSE(loaded.good());
        const auto text = messages(loaded);
        EXPECT_EQ(text.rfind(folder_.string() + '/', 0), 0U) << text;
        return text.substr(std::min(text.size(), folder_.string().size() + 1));
    }
    void write(const std::string& name, const std::string& content) {
        std::ofstream(folder_ / name, std::ios::binary) << content;
    }

    fs::path folder_;
};

TEST_F(AFile, ThatIsMissingIsNamed) {
    EXPECT_EQ(said("none.toml"), "none.toml: can't be read: No such file or directory\n");
}

TEST_F(AFile, ThatIsADirectoryIsNamed) {
    fs::create_directory(folder_ / "inside");
    EXPECT_EQ(said("inside"), "inside: can't be read: Is a directory\n");
}

TEST_F(AFile, OfSeveralPiecesIsReadWholeAndToOneByteMoreThanWanted) {
    std::string text;
    while (text.size() < 300000) text += std::to_string(text.size()) + '\n';
    write("long", text);
    EXPECT_EQ(read_file_text(folder_ / "long", 1 << 20).content, text);
    EXPECT_EQ(read_file_text(folder_ / "long", text.size()).content, text);
    EXPECT_EQ(read_file_text(folder_ / "long", 100000).content, text.substr(0, 100001));
    EXPECT_EQ(read_file_text(folder_ / "long", 3).content, text.substr(0, 4));
}

TEST_F(AFile, ThatMayNotBeReadIsNamed) {
    if (::geteuid() == 0) GTEST_SKIP() << "root may read everything";
    write("secret.toml", "");
    fs::permissions(folder_ / "secret.toml", fs::perms::none);
    EXPECT_EQ(said("secret.toml"), "secret.toml: can't be read: Permission denied\n");
}

TEST_F(AFile, ThatIsAPipeIsRefusedWithoutWaiting) {
    ASSERT_EQ(::mkfifo((folder_ / "pipe").c_str(), 0600), 0);
    EXPECT_EQ(said("pipe"), "pipe: can't be read: it is not a regular file\n");
}

TEST_F(AFile, ThatIsTooLongIsRefused) {
    write("long.toml", std::string(256 * 1024, '\n') + "\n");
    EXPECT_EQ(said("long.toml"), "long.toml:1:1: longer than 256 KiB\n");
}

TEST_F(AFile, WithALineThatIsTooLongIsRefused) {
    write("deep.toml", "\na" + [] {
        std::string dots;
        for (int i = 0; i < 100000; ++i) dots += ".a";
        return dots;
    }() + " = 1\n");
    EXPECT_EQ(said("deep.toml"), "deep.toml:2:2049: a line longer than 2048 bytes\n");
}

TEST_F(AFile, WithWindowsLineEndsAndAByteOrderMarkLoads) {
    write("notepad.toml", "\xEF\xBB\xBF[gate]\r\nhold_ms = 2000\r\n");
    const auto loaded = load(folder_ / "notepad.toml");
    EXPECT_EQ(messages(loaded), "");
    EXPECT_EQ(changed_keys(Settings{}, loaded.settings), "gate.hold_ms");
}

}  // namespace
}  // namespace tripline::config
