#include "daemon/cli/desk_text.h"

#include "daemon/control/prometheus.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace tripline::cli {
namespace {

using Json = nlohmann::ordered_json;

std::string row(const std::string& name, const std::string& value) {
    return name + std::string(name.size() < 16 ? 16 - name.size() : 1, ' ') + value + '\n';
}

std::string text(const Json& line, const char* member) { return line.at(member).get<std::string>(); }

std::string active_lines(const Json& line) {
    std::string active;
    for (const char* role : {"key", "mute", "antenna"}) {
        if (line.at(role).get<bool>()) active += (active.empty() ? "" : ", ") + std::string(role);
    }
    return active.empty() ? "all at rest" : active;
}

std::string overs(const Json& line) {
    char text[80];
    std::snprintf(text, sizeof text, "%llu, keyed for %.1f s in all",
                  static_cast<unsigned long long>(line.at("overs").get<std::uint64_t>()),
                  line.at("keyed_s").get<double>());
    return text;
}

std::string echo(const Json& model) {
    char text[120];
    if (model.at("clocks_differ").get<bool>())
        std::snprintf(text, sizeof text, "inputs on two clocks, %.0f ppm apart: the envelopes guard", model.at("drift_ppm").get<double>());
    else if (!model.at("sure").get<bool>())
        std::snprintf(text, sizeof text, "not sure yet, explains %.0f %%: the envelopes guard", model.at("explained_percent").get<double>());
    else
        std::snprintf(text, sizeof text, "sure, takes %.1f dB off; the receiver arrives after %.1f ms",
                      model.at("reduction_db").get<double>(), model.at("delay_ms").get<double>());
    return text;
}

/// The operator's, and what comes of it that it does not say itself.
std::string mode(const Json& line) {
    const std::string wanted = text(line, "mode");
    const std::string taken = text(line, "mode_taken");
    if (wanted != taken) return wanted + " asked for, " + taken + " now";
    if (wanted == "keyed" && line.at("key").get<bool>()) return "keyed by hand, until unkey, safe or the time limit opens the key";
    if (wanted != "keyed" || text(line, "state") != "locked_out") return wanted;
    return wanted + ", but the key was opened: nothing keys until key forces it again or arm lets the voice key";
}

std::string state(const Json& line) {
    const bool waits = line.value("quiet_awaited", false) && text(line, "state") == "locked_out";
    return text(line, "state") + " (" + text(line, "reason") + ")" + (waits ? " until the microphone has been quiet" : "");
}

std::string process(const Json& line) {
    const std::string file = line.value("settings_file", std::string());
    return std::to_string(line.at("process").get<int>()) + (file.empty() ? ", without a settings file" : ", settings " + file);
}

/// What became of the last capture.
std::string black_box(const Json& captures) {
    if (captures.at("ended").get<std::uint64_t>() < captures.at("asked").get<std::uint64_t>()) return "is being asked for what it keeps";
    if (captures.at("last").empty()) return "has written nothing";
    const Json& last = captures.at("last").back();
    return last.contains("sound") ? "wrote " + text(last, "sound") : "could not write: " + text(last, "failure");
}

}  // namespace

std::string status_text(const std::string& answer) {
    const Json line = Json::parse(answer);
    const std::string trouble = text(line, "trouble");
    std::string all = row("station", trouble.empty() ? text(line, "phase") : trouble);
    for (const Json& missing : line.value("missing", Json::array())) all += row("goes without", missing.get<std::string>());
    if (line.value("process", 0) > 0) all += row("process", process(line));
    all += row("mode", mode(line));
    all += row("state", state(line));
    all += row("lines", active_lines(line));
    if (!line.at("echo").is_null()) all += row("echo model", echo(line.at("echo")));
    all += row("overs", overs(line));
    all += row("sound", text(line, "sound").empty() ? "none" : text(line, "sound"));
    for (const Json& set : line.at("not_saved")) all += row("set, not saved", set.get<std::string>());
    if (line.value("settings_pending", false)) all += row("new settings", "wait for the lines to come to rest");
    const Json captures = line.value("captures", Json::object());
    if (captures.value("asked", 0) > 0) all += row("black box", black_box(captures));
    return all;
}

std::string settings_text(const std::string& answer) {
    std::string all;
    const Json line = Json::parse(answer);
    for (const Json& one : line.at("settings")) {
        all += text(one, "key") + " = " + text(one, "value") + "    # " + text(one, "allowed") + '\n';
    }
    return all;
}

std::string metrics_text(const std::string& answer) { return control::prometheus(answer); }

}  // namespace tripline::cli
