#include "daemon/cli/captures.h"

#include "daemon/cli/answer.h"
#include "daemon/cli/time_option.h"
#include "daemon/logbook/line.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <stdexcept>
#include <thread>

namespace tripline::cli {
namespace {

using Json = nlohmann::json;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr auto patience = 120s;

Json captures(const DeskOptions& options) {
    const Json status = Json::parse(ask(options, R"({"do":"status"})"));
    if (!status.contains("captures")) throw std::runtime_error(options.socket + ": an older station, which does not tell what it wrote");
    return status.at("captures");
}

void demand(const DeskOptions& options) {
    const Json answer = Json::parse(ask(options, R"({"do":"capture"})"));
    if (!answer.value("ok", false)) throw std::runtime_error(answer.value("why", std::string("refused")));
}

logbook::WallTime time_of(const Json& heard, const char* member) {
    const auto time = logbook::time_of(heard.at(member).get<std::string>());
    if (!time) throw std::runtime_error("the station's answer has no times");
    return *time;
}

Written written(const Json& file) {
    return {file.at("sound").get<std::string>(), time_of(file, "began"), time_of(file, "ended")};
}

/// Of the captures after the first `before`.
std::vector<Written> written_after(std::uint64_t before, const Json& files) {
    std::vector<Written> found;
    for (const Json& file : files) {
        if (file.at("number").get<std::uint64_t>() <= before) continue;
        if (file.contains("failure")) throw std::runtime_error("the black box could not write: " + file.at("failure").get<std::string>());
        found.push_back(written(file));
    }
    return found;
}

std::string of_day(logbook::WallTime time) { return logbook::time_text(time).substr(11, 8); }

[[noreturn]] void refuse(const std::vector<Written>& written, logbook::WallTime at) {
    std::string kept;
    for (const Written& w : written) kept += (kept.empty() ? "" : " and ") + of_day(w.began) + " to " + of_day(w.ended);
    throw std::runtime_error(of_day(at) + " is not among what the station keeps: " + kept + " (UTC)");
}

std::vector<Written> wait_for_capture(const DeskOptions& options) {
    const auto before = captures(options).at("asked").get<std::uint64_t>();
    demand(options);
    const auto end = std::chrono::steady_clock::now() + patience;
    while (std::chrono::steady_clock::now() < end) {
        const Json now = captures(options);
        if (now.at("ended").get<std::uint64_t>() > before) return written_after(before, now.at("last"));
        std::this_thread::sleep_for(200ms);
    }
    throw std::runtime_error("the black box is still writing after two minutes; the station's log will name the file");
}

}  // namespace

void refuse_forgotten(const DeskOptions& options, logbook::WallTime at) {
    const auto kept = understood(options.socket, [&] {
        std::vector<Written> all;
        for (const Json& heard : captures(options).value("kept", Json::array())) all.push_back({{}, time_of(heard, "began"), time_of(heard, "ended")});
        return all;
    });
    if (!kept.empty() && at < kept.front().began) refuse(kept, at);
}

std::vector<Written> capture(const DeskOptions& options) {
    return understood(options.socket, [&] { return wait_for_capture(options); });
}

std::optional<logbook::WallTime> last_time_of_day(const std::string& text, logbook::WallTime now) {
    const auto colons = std::ranges::count(text, ':');
    const auto since_midnight = colons == 1 ? time_in(text + ":00") : colons == 2 ? time_in(text) : std::nullopt;
    if (!since_midnight || *since_midnight >= std::chrono::days(1)) return std::nullopt;
    const auto midnight = std::chrono::floor<std::chrono::days>(now);
    const logbook::WallTime today = midnight + std::chrono::round<std::chrono::milliseconds>(*since_midnight);
    return today <= now ? today : today - std::chrono::days(1);
}

const Written& covering(const std::vector<Written>& written, logbook::WallTime at) {
    const auto found = std::ranges::find_if(written, [&](const Written& w) { return w.began <= at && at <= w.ended; });
    if (found != written.end()) return *found;
    refuse(written, at);
}

}  // namespace tripline::cli
