#include "daemon/control/other_station.h"

#include "daemon/control/limits.h"
#include "daemon/control/link.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <fstream>
#include <optional>

namespace tripline::control {

namespace {

using Json = nlohmann::json;

Duration now_steady() { return std::chrono::steady_clock::now().time_since_epoch(); }

[[noreturn]] void refuse(const std::string& path, const std::string& who) {
    throw AnotherStation(path + ": a station runs there already: " + who +
                         "; stop that one first, or give this one another control.socket (or none: it cannot be steered then)");
}

std::optional<Link> link_to(const std::string& path) {
    try {
        return Link(path, answer_within);
    } catch (const NoLink& nobody) {  // what else is wrong there the listener tells
        if (nobody.somebody_listens) refuse(path, "another process, which takes no connection");
        return std::nullopt;
    }
}

/// Empty: it does not say, or not in time.
std::string settings_of(Link& other) {
    const Duration until = now_steady() + answer_within;
    try {
        other.say(R"({"do":"status"})");
        while (const auto line = other.hear(until - now_steady())) {
            const Json answer = Json::parse(*line, nullptr, false);
            if (!answer.is_object() || !answer.contains("re")) continue;
            const std::string file = answer.value("settings_file", std::string());
            const bool plain = std::ranges::none_of(file, [](unsigned char c) { return c < ' ' || c == 0x7F; });
            return plain ? file : std::string();
        }
    } catch (const std::exception&) {  // it has gone, or makes no sense
    }
    return {};
}

std::string process_of(const Link& other) {
    const int process = other.process();
    if (process <= 0) return "another station";
    std::string name;
    std::ifstream in("/proc/" + std::to_string(process) + "/comm");
    std::getline(in, name);
    return "process " + std::to_string(process) + (name.empty() ? "" : " (" + name + ")");
}

}  // namespace

void refuse_beside_another(const std::string& path) {
    auto other = link_to(path);
    if (!other) return;
    const std::string settings = settings_of(*other);
    refuse(path, process_of(*other) + (settings.empty() ? "" : " with the settings " + settings));
}

}  // namespace tripline::control
