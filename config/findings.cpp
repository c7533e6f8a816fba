#include "config/findings.h"

#include "config/value.h"

#include <algorithm>

namespace tripline::config {

void Findings::error(const std::vector<std::string>& keys, std::string what, std::string allowed) {
    Problem problem;
    problem.what = std::move(what);
    problem.allowed = std::move(allowed);
    add(keys, std::move(problem));
}

void Findings::note(const std::vector<std::string>& keys, std::string what) {
    Problem problem;
    problem.what = std::move(what);
    problem.severity = Severity::note;
    add(keys, std::move(problem));
}

bool Findings::meant(const std::string& key) const {
    return std::any_of(before_.begin(), before_.end(), [&](const Problem& p) { return p.suggestion.starts_with(key); });
}

void Findings::add(const std::vector<std::string>& keys, Problem problem) {
    const auto in_error = [this](const std::string& key) {
        return std::any_of(before_.begin(), before_.end(),
                           [&](const Problem& p) { return p.key == key; });
    };
    if (std::any_of(keys.begin(), keys.end(), in_error)) return;
    problem.key = keys.front();
    const auto place =
        std::find_if(keys.begin(), keys.end(), [this](auto& key) { return given(key); });
    if (place != keys.end()) problem.at = loaded_.origin(*place);
    loaded_.problems.push_back(std::move(problem));
}

std::string number_text(double number) { return to_toml(number); }

std::string ms_text(Duration duration) {
    return number_text(static_cast<double>(duration.count()) / 1e6) + " ms";
}

}  // namespace tripline::config
