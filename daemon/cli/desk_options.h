// --socket, the same for every command that talks to a running station.
#pragma once

#include <functional>
#include <string>

namespace CLI {
class App;
}

namespace tripline::cli {

struct DeskOptions {
    std::string socket;
};

/// The options must outlive the command.
void add_desk_options(CLI::App& command, DeskOptions& options);

/// The daemon's answer to one line of the protocol. Throws std::runtime_error when there is
/// none within 3 s, or none that makes sense. What it tells has no control characters.
std::string ask(const DeskOptions& options, const std::string& line);

}  // namespace tripline::cli
