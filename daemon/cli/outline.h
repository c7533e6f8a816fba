// A program's commands and options as plain data, taken from the parser itself: the manual
// pages and the completions are made from it and can't differ from --help.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace tripline::cli {

struct OptionOutline {
    std::vector<std::string> names;  ///< "-c", "--config"; of a positional "FILE"
    std::string value;               ///< "FILE"; empty: a flag
    std::string help;
    std::vector<std::string> choices;  ///< all values there are; empty: any
    bool positional = false;
    bool required = false;
    bool repeated = false;
};

struct CommandOutline {
    std::string name;  ///< "check"
    std::string path;  ///< "tripline config check"
    std::string summary;
    std::vector<OptionOutline> options;  ///< in the order of --help, positionals last
    std::vector<CommandOutline> commands;
};

CommandOutline outline_of(const CLI::App& program);

/// The commands that have none below them: those that do something.
std::vector<CommandOutline> doing(const CommandOutline& command);

}  // namespace tripline::cli
