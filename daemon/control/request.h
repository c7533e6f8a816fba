// What a client asks for.
#pragma once

#include "daemon/logbook/mark.h"
#include "daemon/station/state.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace tripline::control {

enum class Verb : std::uint8_t {
    status,    ///< the station now
    levels,    ///< from now on, 25 times a second
    events,    ///< from now on, as they happen
    mode,      ///< armed, safe or keyed
    set,       ///< one setting, until the daemon ends or reads its file again
    save,      ///< what was set goes into the settings file
    settings,  ///< those that may be set, with their values
    overs,     ///< the last ones
    mark,      ///< one over as false or late, or just now as missed
    capture,   ///< what was heard just now goes into a file
    metrics,   ///< counters
    page,      ///< address of the page, with its token
    saved,     ///< within the daemon only: these settings stand in the file now
};
inline constexpr std::array verb_names{std::string_view("status"), std::string_view("levels"),
                                       std::string_view("events"), std::string_view("mode"),
                                       std::string_view("set"),    std::string_view("save"),
                                       std::string_view("settings"), std::string_view("overs"),
                                       std::string_view("mark"),   std::string_view("capture"),
                                       std::string_view("metrics"), std::string_view("page")};

constexpr std::string_view name(Verb verb) {
    const auto index = static_cast<std::size_t>(verb);
    return index < verb_names.size() ? verb_names[index] : std::string_view("saved");
}

/// Whether something of the station changes by it.
constexpr bool changes(Verb verb) {
    return verb == Verb::mode || verb == Verb::set || verb == Verb::save || verb == Verb::mark ||
           verb == Verb::capture || verb == Verb::saved;
}

struct Request {
    Verb verb = Verb::status;
    std::optional<std::int64_t> id;           ///< comes back with the answer
    bool on = true;                           ///< levels, events
    station::Mode mode = station::Mode::safe; ///< mode
    std::optional<station::Mode> from;        ///< mode: to be taken in this one only
    std::string key;                          ///< set
    std::string value;                        ///< set: as TOML; text needs no quotes
    logbook::Mark mark = logbook::Mark::none; ///< mark
    std::uint64_t over = 0;                   ///< mark: number of the over; 0: the last one; missed: 0
    std::size_t last = 20;                    ///< overs: how many

    /// The one thing that is never made to wait.
    bool is_safe() const { return verb == Verb::mode && mode == station::Mode::safe; }
    /// The one whose outcome takes a moment.
    bool is_key() const { return verb == Verb::mode && mode == station::Mode::keyed; }
};

/// The request, or what is wrong with it.
using Parsed = std::variant<Request, std::string>;

/// One line of the protocol. Any bytes.
Parsed parse(std::string_view line);

}  // namespace tripline::control
