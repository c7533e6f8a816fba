#include "config/live.h"

#include "config/keys.h"
#include "config/problem.h"
#include "config/reader.h"
#include "config/suggest.h"

namespace tripline::config {
namespace {

std::string without_place(const Problem& problem) { return to_string(problem).substr(to_string(problem.at).size() + 2); }

}  // namespace

std::string fault_of_one(std::string_view setting) {
    const Reading reading = read_overlay(setting, 1);
    if (!reading.problems.empty()) return without_place(reading.problems.front());
    const Entry& entry = reading.entries.front();
    Problem problem;
    problem.key = entry.path;
    const Key* const key = find_key(entry.path);
    if (key == nullptr) {
        problem.what = "no such key";
        problem.suggestion = suggest_path(entry.path, entry.table);
        return without_place(problem);
    }
    const Settings any;
    problem.what = check(*key, any, entry.value);
    if (problem.what.empty()) return {};
    problem.allowed = allowed_here(*key, any);
    problem.suggestion = suggest_value(*key, any, entry.value);
    return without_place(problem);
}

}  // namespace tripline::config
