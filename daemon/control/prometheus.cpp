#include "daemon/control/prometheus.h"

#include <nlohmann/json.hpp>

#include <array>

namespace tripline::control {
namespace {

struct Metric {
    const char* member;
    const char* name;
    const char* type;
    const char* help;
};

constexpr std::array all_metrics{
    Metric{"running", "tripline_running", "gauge", "1 while audio flows and the guard answers."},
    Metric{"key", "tripline_key_closed", "gauge", "1 while the guard drives the key."},
    Metric{"overs", "tripline_overs_total", "counter", "Overs since the start."},
    Metric{"keyed_s", "tripline_keyed_seconds_total", "counter", "Time on the air since the start."},
    Metric{"blocks", "tripline_audio_blocks_total", "counter", "Blocks of audio processed."},
    Metric{"blocks_flagged", "tripline_audio_losses_total", "counter", "Blocks before which samples were lost."},
    Metric{"events_lost", "tripline_events_lost_total", "counter", "Events that the service did not take in time."},
    Metric{"keying_late", "tripline_keying_late_total", "counter", "Late turns of the keying thread."},
    Metric{"guard_starts", "tripline_guard_starts_total", "counter", "Guards started."}};

}  // namespace

std::string prometheus(const std::string& answer) {
    const auto line = nlohmann::json::parse(answer);
    std::string text;
    for (const Metric& metric : all_metrics) {
        const auto& value = line.at(metric.member);
        const std::string number = value.is_boolean() ? (value.get<bool>() ? "1" : "0") : value.dump();
        const std::string name = metric.name;
        text += "# HELP " + name + ' ' + metric.help + "\n# TYPE " + name + ' ' + metric.type + '\n';
        text += name + ' ' + number + '\n';
    }
    return text;
}

}  // namespace tripline::control
