#include "daemon/control/request.h"

#include "daemon/station/names.h"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace tripline::control {
namespace {

using Json = nlohmann::json;

constexpr std::size_t longest_text = 1024;
constexpr std::int64_t most_overs = 1000;

/// A member of the wanted kind, or what is wrong.
class Members {
public:
    explicit Members(const Json& object) : object_(object) {}

    bool has(const char* member) const { return object_.contains(member); }
    std::string text(const char* member) {
        const auto found = object_.find(member);
        if (found == object_.end() || !found->is_string()) return miss(member, "has to be text");
        auto value = found->get<std::string>();
        if (value.empty() || value.size() > longest_text) return miss(member, "is empty or too long");
        return value;
    }
    std::int64_t whole(const char* member, std::int64_t otherwise, std::int64_t most) {
        const auto found = object_.find(member);
        if (found == object_.end()) return otherwise;
        const bool fits = found->is_number_integer() && found->get<std::int64_t>() >= 0 &&
                          found->get<std::int64_t>() <= most;
        if (fits) return found->get<std::int64_t>();
        miss(member, "has to be a whole number from 0 on");
        return otherwise;
    }
    bool truth(const char* member, bool otherwise) {
        const auto found = object_.find(member);
        if (found == object_.end()) return otherwise;
        if (found->is_boolean()) return found->get<bool>();
        miss(member, "has to be true or false");
        return otherwise;
    }
    std::string miss(const std::string& member, const std::string& what) {
        if (wrong_.empty()) wrong_ = member + " " + what;
        return {};
    }
    const std::string& wrong() const { return wrong_; }

private:
    const Json& object_;
    std::string wrong_;
};

std::optional<station::Mode> mode_named(const std::string& text) {
    for (const auto mode : {station::Mode::armed, station::Mode::safe, station::Mode::keyed}) {
        if (text == station::name(mode)) return mode;
    }
    return std::nullopt;
}

void read_mode(Members& members, Request& request) {
    const auto mode = mode_named(members.text("mode"));
    if (mode) request.mode = *mode;
    else members.miss("mode", "has to be \"armed\", \"safe\" or \"keyed\"");
    if (!members.has("from")) return;
    request.from = mode_named(members.text("from"));
    if (!request.from) members.miss("from", "has to be \"armed\", \"safe\" or \"keyed\"");
}

void read_mark(Members& members, Request& request) {
    const auto mark = logbook::mark_named(members.text("as"));
    if (!mark) members.miss("as", "has to be \"false\", \"missed\" or \"late\"");
    else if (*mark == logbook::Mark::missed && request.over != 0) members.miss("over", "goes with \"false\" and \"late\" only: what was missed has no number");
    else request.mark = *mark;
}

void read_members(Members& members, Request& request) {
    constexpr std::int64_t most_id = std::int64_t{1} << 53;  // exact in every reader of JSON
    request.on = members.truth("on", true);
    request.over = static_cast<std::uint64_t>(members.whole("over", 0, most_id));
    request.last = static_cast<std::size_t>(members.whole("last", 20, most_overs));
    if (request.verb == Verb::mode) read_mode(members, request);
    if (request.verb == Verb::mark) read_mark(members, request);
    if (request.verb != Verb::set) return;
    request.key = members.text("key");
    request.value = members.text("value");
    if (request.key.find('=') != std::string::npos) members.miss("key", "has no = in it");
}

}  // namespace

Parsed parse(std::string_view line) {
    const Json object = Json::parse(line, nullptr, false);
    if (object.is_discarded()) return "this is no JSON";
    if (!object.is_object()) return "a request is an object";
    Members members(object);
    const std::string wanted = members.text("do");
    if (!members.wrong().empty()) return members.wrong();
    const auto* const verb = std::ranges::find(verb_names, wanted);
    if (verb == verb_names.end()) return "do: there is no such request";
    Request request;
    request.verb = static_cast<Verb>(verb - verb_names.begin());
    const auto id = members.whole("id", -1, std::int64_t{1} << 53);
    if (id >= 0) request.id = id;
    read_members(members, request);
    if (!members.wrong().empty()) return members.wrong();
    return request;
}

}  // namespace tripline::control
