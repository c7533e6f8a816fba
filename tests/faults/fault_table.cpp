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
    void SetUp() override { machine(); }
    void TearDown() override {
        std::printf("\nthe host took %.0f ms of this machine's time\n", milliseconds(machine().stolen()));
        if (!table().empty()) std::printf("\n%s\n", table().text().c_str());
    }
};
const auto* const printer = testing::AddGlobalTestEnvironment(new Printer);

}  // namespace

FaultTable::Row& FaultTable::row(const std::string& fault) {
    const auto found = std::ranges::find(rows_, fault, &Row::fault);
    return found != rows_.end() ? *found : rows_.emplace_back(Row{.fault = fault, .times = {}});
}

bool FaultTable::wants(const std::string& fault) const {
    const auto found = std::ranges::find(rows_, fault, &Row::fault);
    return found == rows_.end() || found->times.size() < injections;
}

void FaultTable::add(const std::string& fault, Duration bound, Instant at, Instant opened) {
    const Duration took = opened - at;
    row(fault).bound = bound;
    if (took > bound && excuse(fault, at, opened, took - bound)) return;
    row(fault).times.push_back(took);
    EXPECT_LE(milliseconds(took), milliseconds(bound)) << fault;
}

bool FaultTable::excuse(const std::string& fault, Instant from, Instant to, Duration least) {
    const Duration still = machine().stood_still(from, to);
    if (still < std::max(least, MachineWatch::blink) || row(fault).voided == excused) return false;
    ++row(fault).voided;
    std::printf("%s: void, the machine stood still for %.0f ms of %.0f ms\n", fault.c_str(), milliseconds(still),
                milliseconds(to - from));
    return true;
}

bool FaultTable::spoil(const std::string& fault) {
    if (row(fault).voided == excused) return false;
    ++row(fault).voided;
    std::printf("%s: void, the sound server missed a callback\n", fault.c_str());
    return true;
}

std::string FaultTable::text() const {
    std::string text =
        "| fault | injections | median ms | worst ms | bound ms | void |\n|---|---|---|---|---|---|\n";
    for (Row row : rows_) {
        if (row.times.empty()) continue;
        std::ranges::sort(row.times);
        char line[256];
        std::snprintf(line, sizeof line, "| %s | %zu | %.1f | %.1f | %.0f | %d |\n", row.fault.c_str(),
                      row.times.size(), milliseconds(row.times[row.times.size() / 2]),
                      milliseconds(row.times.back()), milliseconds(row.bound), row.voided);
        text += line;
    }
    return text;
}

FaultTable& table() {
    static FaultTable the_table;
    return the_table;
}

}  // namespace tripline::faults
