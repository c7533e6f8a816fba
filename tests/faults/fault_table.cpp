#include "tests/faults/fault_table.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>

namespace tripline::faults {
namespace {

double milliseconds(Duration time) {
    return std::chrono::duration<double, std::milli>(time).count();
}

struct Printer final : testing::Environment {
    void TearDown() override {
        if (!table().empty()) std::printf("\n%s\n", table().text().c_str());
    }
};
const auto* const printer = testing::AddGlobalTestEnvironment(new Printer);

}  // namespace

void FaultTable::add(const std::string& fault, Duration bound, Duration took) {
    auto row = std::ranges::find(rows_, fault, &Row::fault);
    if (row == rows_.end()) row = rows_.insert(row, {fault, bound, {}});
    row->times.push_back(took);
    EXPECT_LE(milliseconds(took), milliseconds(bound)) << fault;
}

std::string FaultTable::text() const {
    std::string text =
        "| fault | injections | median ms | worst ms | bound ms |\n|---|---|---|---|---|\n";
    for (Row row : rows_) {
        std::ranges::sort(row.times);
        char line[256];
        std::snprintf(line, sizeof line, "| %s | %zu | %.1f | %.1f | %.0f |\n", row.fault.c_str(),
                      row.times.size(), milliseconds(row.times[row.times.size() / 2]),
                      milliseconds(row.times.back()), milliseconds(row.bound));
        text += line;
    }
    return text;
}

FaultTable& table() {
    static FaultTable the_table;
    return the_table;
}

}  // namespace tripline::faults
