// One key of the configuration: all that the parser, the checks, the help and the manual know.
#pragma once

#include "config/settings.h"
#include "config/value.h"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace tripline::config {

enum class Type : unsigned char {
    boolean,
    whole,   ///< a whole number
    number,  ///< a number; a whole one will do
    text,
    choice,  ///< one of a few words
    pin,     ///< a word or a whole number: depends on the kind of line
};

/// The part of a running station that has to take up a change.
enum class Touches : unsigned char {
    engine,  ///< detector, station logic, audio path
    sound,   ///< the sound devices are opened anew
    guard,   ///< the lines are opened anew
    log,
    daemon,  ///< nothing does; it counts from the next start
};

struct Range {
    double least = 0.0;
    double most = 0.0;
};

struct Key {
    std::string path;  ///< "gate.open_dbfs"
    Type type = Type::text;
    std::string unit;                  ///< "dBFS", "ms" ... or empty
    Range range;                       ///< of whole and number
    std::vector<std::string> choices;  ///< of choice
    Touches touches = Touches::engine;
    std::string summary;  ///< one line
    std::string help;     ///< more, or empty
    std::function<Value(const Settings&)> read;
    /// Takes a value that passed check().
    std::function<void(Settings&, const Value&)> write;
    /// More that can be wrong with a value, given the keys before it in the table; or empty.
    std::function<std::string(const Settings&, const Value&)> refuse;
};

/// "gate" of "gate.open_dbfs", "line.ptt" of "line.ptt.kind".
std::string_view table_of(std::string_view path);
/// "open_dbfs" of "gate.open_dbfs".
std::string_view leaf_of(std::string_view path);
/// Unit that the end of a key's name tells: "dBFS" of "open_dbfs"; or empty.
std::string unit_of(std::string_view path);
/// The name without its unit: "gate.open" of "gate.open_dbfs".
std::string_view stem_of(std::string_view path);

/// What may be written: "-90 to 0 dBFS", "\"fixed\" or \"floating\"" ...
std::string allowed(const Key& key);

/// What is wrong with the value, or empty. `settings` holds the keys before this one.
std::string check(const Key& key, const Settings& settings, const Value& value);

}  // namespace tripline::config
