#include "daemon/cli/tune_axis.h"

#include "config/keys.h"
#include "config/live.h"
#include "config/value.h"

#include <cmath>
#include <optional>
#include <stdexcept>
#include <variant>

namespace tripline::cli {
namespace {

constexpr std::size_t most_values = 100;

std::optional<double> number_in(const std::string& text) {
    std::size_t used = 0;
    try {
        const double value = std::stod(text, &used);
        if (used == text.size() && std::isfinite(value)) return value;
    } catch (const std::exception&) {
        // no number at its beginning, or one that no double holds
    }
    return std::nullopt;
}

bool takes_numbers(const config::Key& key) {
    const config::Value value = key.read({});
    return std::holds_alternative<std::int64_t>(value) || std::holds_alternative<double>(value);
}

/// Throws for a key that cannot have the value.
void check(const std::string& option, const std::string& key, double value) {
    const std::string wrong = config::fault_of_one(key + '=' + config::to_toml(value));
    if (wrong.empty()) return;
    const bool known = config::find_key(key) != nullptr;
    throw std::runtime_error(option + ' ' + wrong + (known ? "" : " (allowed: a setting that is a number; tripline config show lists all)"));
}

}  // namespace

tune::Axis axis_in(const std::string& option, const std::string& text) {
    const auto refuse = [&](const char* why) { throw std::runtime_error(option + ' ' + text + why); };
    const auto equals = text.find('=');
    const auto first = text.find(':', equals == std::string::npos ? 0 : equals);
    const auto second = first == std::string::npos ? first : text.find(':', first + 1);
    constexpr auto no_axis = ": is not KEY=FROM:TO:STEP, as gate.open_dbfs=-64:-20:4 is";
    if (equals == std::string::npos || second == std::string::npos) refuse(no_axis);
    tune::Axis axis{text.substr(0, equals), {}};
    const auto from = number_in(text.substr(equals + 1, first - equals - 1));
    const auto to = number_in(text.substr(first + 1, second - first - 1));
    const auto step = number_in(text.substr(second + 1));
    if (!from || !to || !step) refuse(no_axis);
    const auto* const key = config::find_key(axis.key);
    if (key != nullptr && !takes_numbers(*key)) throw std::runtime_error(option + ' ' + axis.key + ": is no number, so it cannot be mapped");
    const double steps = std::floor((*to - *from) / *step + 1e-9);
    if (!(*step > 0) || !(*from < *to) || steps + 1 > static_cast<double>(most_values))
        refuse(": FROM has to be less than TO, STEP above 0, and the values 100 at most");
    for (double i = 0; i <= steps; ++i) axis.values.push_back(tune::without_residue(*from + i * *step));
    for (const double value : {axis.values.front(), axis.values.back()}) check(option, axis.key, value);
    return axis;
}

}  // namespace tripline::cli
