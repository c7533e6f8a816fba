#include "daemon/prove/baseline.h"

#include "config/file_text.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <stdexcept>

namespace tripline::prove {
namespace {

using Json = nlohmann::ordered_json;

constexpr auto format_key = "tripline_baseline";
constexpr int format = 1;
constexpr std::size_t longest_file = 16 * 1024 * 1024;

Baseline baseline_in(const Json& json) {
    if (!json.is_object() || json.value(format_key, 0) != format) {
        throw std::runtime_error("is not a baseline of this format");
    }
    Baseline baseline;
    for (const auto& [recording, figures] : json.at("recordings").items()) {
        baseline[recording] = figures.get<std::map<std::string, double>>();
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
