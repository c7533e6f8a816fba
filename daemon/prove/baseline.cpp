#include "daemon/prove/baseline.h"

#include "config/file_text.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <stdexcept>
#include <string_view>

namespace tripline::prove {
namespace {

using Json = nlohmann::ordered_json;

constexpr auto format_key = "tripline_baseline";
constexpr int format = 1;
constexpr std::size_t longest_file = 16 * 1024 * 1024;

/// As in a suite: what is printed again has no control characters.
void check_name(std::string_view name) {
    const auto plain = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-'; };
    if (!std::ranges::all_of(name, plain)) throw std::runtime_error("has a name of other than letters, digits, _ and -");
}

Baseline baseline_in(const Json& json) {
    if (!json.is_object() || json.value(format_key, 0) != format) {
        throw std::runtime_error("is not a baseline of this format");
    }
    Baseline baseline;
    for (const auto& [recording, figures] : json.at("recordings").items()) {
        check_name(recording);
        baseline[recording] = figures.get<std::map<std::string, double>>();
        for (const auto& [name, value] : baseline[recording]) check_name(name);
    }
    return baseline;
}

}  // namespace

Baseline baseline_of(const Verdicts& verdicts) {
    Baseline baseline;
    for (const Verdict& verdict : verdicts) {
        if (!verdict.judged()) continue;
        for (const Figure& figure : figures_of(*verdict.result.score)) {
            baseline[verdict.name][figure.name] = figure.value;
        }
    }
    return baseline;
}

std::string to_json(const Baseline& baseline) {
    Json recordings = Json::object();
    for (const auto& [recording, figures] : baseline) {
        for (const auto& [name, value] : figures) {
            recordings[recording][name] = std::round(value * 1000) / 1000 + 0.0;
        }
    }
    return Json{{format_key, format}, {"recordings", recordings}}.dump(2) + "\n";
}

Baseline read_baseline(const std::filesystem::path& file) {
    const auto text = config::read_file_text(file, longest_file);
    if (!text.error.empty()) throw std::runtime_error(file.string() + ": " + text.error);
    try {
        return baseline_in(Json::parse(text.content));
    } catch (const std::exception& error) {
        throw std::runtime_error(file.string() + ": " + error.what());
    }
}

}  // namespace tripline::prove
