// The main job's figures, on half an hour of scenes a row.
#include "tests/field/bench.h"
#include "tests/field/table.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <iostream>
#include <thread>

namespace tripline::field {
namespace {

class TheMainJob : public testing::TestWithParam<Row> {};

TEST_P(TheMainJob, IsNoWorseThanItsTargetsOrTheFiguresOnRecord) {
    const Row row = GetParam();
    constexpr std::uint64_t seed = 1;
    scene::Corpus corpus(Hertz{48000});
    const auto outcome = run_row(row, seed, corpus, std::thread::hardware_concurrency());
    std::cout << "seeds from " << seed << '\n' << table_head() << table_line(row.name, outcome);
    EXPECT_GT(outcome.score.overs, 0);
    std::cout << "not reached: " << shortfall(row, outcome) << '\n';
    EXPECT_EQ(setback(row, outcome), "");
}

/// No published figure is known. Half an hour has 17 keys, and had 112 before a pitch that is not clear had to be as
/// loud as an operator who was heard.
TEST(AKeyboardBesideAnOperatorWhoHasSaidNothing, SeldomKeysTheStation) {
    auto rows = loud_rows();
    const auto row = std::ranges::find(rows, std::string("keyboard at equal peak"), &Row::name);
    ASSERT_NE(row, rows.end());
    row->length = std::chrono::minutes{30};
    row->scene.script.near_speaks = false;
    scene::Corpus corpus(Hertz{16000});
    const auto outcome = run_row(*row, 1, corpus, std::thread::hardware_concurrency());
    EXPECT_LT(outcome.score.false_keys, 30);
}

std::string test_name(const testing::TestParamInfo<Row>& info) {
    std::string name;
    for (const char c : info.param.name) name += std::isalnum(static_cast<unsigned char>(c)) ? c : '_';
    return name;
}

INSTANTIATE_TEST_SUITE_P(On, TheMainJob, testing::ValuesIn(main_rows()), test_name);

}  // namespace
}  // namespace tripline::field
