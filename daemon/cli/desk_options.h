// --socket and --config, the same for every command that talks to a running station.
#pragma once

#include <functional>
#include <string>

namespace CLI {
class App;
}

namespace tripline::cli {

struct DeskOptions {
    std::string socket;
    std::string config;   ///< file that names it instead; empty: none given
};

/// --socket alone. The options must outlive the command.
void add_socket_option(CLI::App& command, DeskOptions& options);
/// --socket or --config; locate() before the socket is used.
void add_desk_options(CLI::App& command, DeskOptions& options);
/// Finds the socket by the settings file, if one was given. Throws std::runtime_error for one with mistakes, and for a
/// station that has no socket.
void locate(DeskOptions& options);

/// The daemon's answer to one line of the protocol. Throws std::runtime_error when there is
/// none within 3 s, or none that makes sense. What it tells has no control characters.
std::string ask(const DeskOptions& options, const std::string& line);

}  // namespace tripline::cli
