// The log's files.
#include "daemon/logbook/book.h"

#include "daemon/logbook/held_file.h"
#include "daemon/logbook/line.h"
#include "tests/file_limit.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>

namespace tripline::logbook {
namespace {

struct TheBook : testing::Test {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("tripline-book-" + std::to_string(::getpid()));
    std::string path = (folder / "overs.jsonl").string();

    void SetUp() override { std::filesystem::create_directory(folder); }
    void TearDown() override { std::filesystem::remove_all(folder); }

    static std::string text_of(const std::string& file) {
        std::ostringstream text;
        text << std::ifstream(file).rdbuf();
        return text.str();
    }
    static Over over(std::uint64_t number) {
        Over made;
        made.number = number;
        return made;
    }
};

TEST_F(TheBook, OnlyEverAddsLines) {
    {
        Book book(path);
        book.write(over(1));
        book.mark(1, Mark::false_key);
        book.missed(WallTime(std::chrono::seconds{5}));
    }
    const std::string before = text_of(path);
    EXPECT_EQ(before, over_line(over(1)) + "\n" + mark_line(1, Mark::false_key) + "\n" +
                          missed_line(WallTime(std::chrono::seconds{5})) + "\n");
    {
        Book book(path);
        ASSERT_EQ(book.before().size(), 1U);
        EXPECT_EQ(book.before()[0].mark, Mark::false_key);
        book.write(over(2));
    }
    EXPECT_EQ(text_of(path), before + over_line(over(2)) + "\n");
}

TEST_F(TheBook, BeginsANewLineAfterOneThatWasCutOff) {
    std::ofstream(path) << over_line(over(1)).substr(0, 30);
    { Book(path).write(over(2)); }
    const Log log = read_log(text_of(path));
    EXPECT_EQ(log.overs.size(), 1U);
    EXPECT_EQ(log.strange, 1U);
}

TEST_F(TheBook, LosesNoFurtherLineToOneThatAFullDiskCutOff) {
    {
        Book book(path);
        const auto waits_for = [&](const auto& come) {
            for (int i = 0; i < 500 && !come(); ++i) ::usleep(10'000);
            return come();
        };
        book.write(over(1));
        ASSERT_TRUE(waits_for([&] { return !text_of(path).empty(); }));
        {
            const FileLimit full(text_of(path).size() + 20);
            book.write(over(2));
            ASSERT_TRUE(waits_for([&] { return book.failed(); }));
        }
        book.write(over(3));
    }
    const Log log = read_log(text_of(path));
    ASSERT_EQ(log.overs.size(), 2U) << text_of(path);
    EXPECT_EQ(log.overs.back().number, 3U);
    EXPECT_EQ(log.strange, 1U);
}

TEST_F(TheBook, TurnsOverWhenItIsFullAndKeepsTheOldFiles) {
    std::ofstream(path) << std::string(Book::most_bytes - 10, '#') << '\n';
    std::ofstream(path + ".1") << "older\n";
    { Book(path).write(over(7)); }
    EXPECT_EQ(text_of(path), over_line(over(7)) + "\n");
    EXPECT_EQ(text_of(path + ".2"), "older\n");
    EXPECT_EQ(text_of(path + ".1").size(), Book::most_bytes - 9);
}

// Who gets it at that moment would give its overs the numbers of this one's.
TEST_F(TheBook, IsHeldWhileItTurnsOverToo) {
    Book book(path);
    std::atomic<int> taken{0};
    std::jthread other([&](const std::stop_token& stop) {
        while (!stop.stop_requested()) {
            try {
                (void)hold(path);
                ++taken;
            } catch (const std::runtime_error&) {
                continue;  // held, as it should be
            }
        }
    });
    for (std::uint64_t number = 1; number <= 20; ++number) {
        std::ofstream(path, std::ios::app) << std::string(Book::most_bytes, '\n');
        book.write(over(number));
        const std::string line = over_line(over(number)) + "\n";
        for (int i = 0; i < 500 && text_of(path) != line; ++i) ::usleep(10'000);
        ASSERT_EQ(text_of(path), line);
    }
    EXPECT_EQ(taken, 0);
    EXPECT_FALSE(book.failed());
}

TEST_F(TheBook, CountsOnFromTheOldFileWhenTheNewOneIsEmpty) {
    std::ofstream(path + ".1") << over_line(over(99)) << '\n';
    EXPECT_EQ(Book(path).before().back().number, 99U);
}

/// What is said when the book cannot be had.
std::string refusal(const std::string& path) {
    try {
        Book book(path);
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "none";
}

TEST_F(TheBook, IsWrittenByOneStationAtATime) {
    std::ofstream(path) << std::string(Book::most_bytes - 10, '#') << '\n';
    {
        Book book(path);
        EXPECT_EQ(refusal(path), path + ": another station writes this log; give each its own logbook.file");
        book.write(over(1));
        for (int i = 0; i < 500 && text_of(path) != over_line(over(1)) + "\n"; ++i) ::usleep(10'000);
        EXPECT_NE(refusal(path).find("another station"), std::string::npos) << "turned over";
    }
    EXPECT_EQ(refusal(path), "none");
}

TEST_F(TheBook, WaitsForNoPipe) {
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    EXPECT_EQ(refusal(path), path + ": is no regular file");
    EXPECT_EQ(refusal(folder.string()), folder.string() + ": is no regular file");
}

TEST_F(TheBook, SaysWhenItCannotBeWritten) {
    EXPECT_THROW(Book((folder / "none" / "overs.jsonl").string()), std::runtime_error);
    Book book("/dev/full");
    book.write(over(1));
    for (int i = 0; i < 100 && !book.failed(); ++i) ::usleep(10'000);
    EXPECT_TRUE(book.failed());
}

}  // namespace
}  // namespace tripline::logbook
