// The daemon's log: one line a message to standard error, fit for the journal. Written
// by a thread of its own, so that a full disk or a stuck terminal never holds up the caller.
#pragma once

#include "config/settings.h"
#include "daemon/service/messages.h"

#include <memory>
#include <string>
#include <vector>

namespace tripline::service {

class Log {
public:
    explicit Log(config::LogLevel level);
    ~Log();
    Log(const Log&) = delete;
    Log& operator=(const Log&) = delete;

    /// Any thread but the audio callback. Never waits for the disk; when the queue is
    /// full the oldest line is dropped.
    void say(Message message, const std::vector<std::string>& arguments = {});

    /// Writes what waits. Nothing may be said afterwards.
    void close();

private:
    struct Sinks;
    std::unique_ptr<Sinks> sinks_;
};

/// The message's text with each {} replaced, in order; surplus arguments are ignored.
std::string fill(std::string_view text, const std::vector<std::string>& arguments);

}  // namespace tripline::service
