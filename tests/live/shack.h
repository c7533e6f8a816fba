// A shack without hardware: a clocked sound server, a pretended sound card, the daemon
// with file lines. Every process is the test's own and ends with it.
#pragma once

#include "tests/faults/child.h"
#include "tests/faults/line_log.h"
#include "tests/faults/rig.h"

#include <memory>
#include <string>
#include <vector>

namespace tripline::live {

using faults::Child;
using faults::Instant;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

class Shack {
public:
    /// Server and card, which plays `sound` (two channels, 48 kHz) when told to; `period` frames
    /// a callback. Throws.
    explicit Shack(std::string sound, int period = 480);
    ~Shack();

    /// The settings of the tests; the daemon reads them at its start and at SIGHUP.
    void write_config() const;
    void start_server();
    void start_card();
    /// Ends the one before, by SIGKILL, and starts another; waits until it is ready.
    /// `log`: where its standard error goes; empty: daemon.log in the folder. Throws.
    void start_daemon(const std::vector<std::string>& more = {}, const std::string& log = {});
    void tell_card(const std::string& command);
    /// Whether the card says that the server missed a callback in that time.
    bool missed_a_callback(Instant from, Instant to);

    /// The card speaks; waits until the key is closed. Throws.
    void get_on_air();
    /// Waits until the daemon has logged `text` `times` times in all. False: not in time.
    bool logged(const std::string& text, int times = 1, Duration timeout = 20s) const;
    int count_logged(const std::string& text) const;
    std::string log() const;
    /// Process id of the daemon's guard; -1: none.
    pid_t guard() const;

    faults::Folder folder;
    faults::LineLog lines{folder.path / "lines"};
    std::string config_file{folder.path / "tripline.toml"};
    std::unique_ptr<Child> server;
    std::unique_ptr<Child> card;
    std::unique_ptr<Child> daemon;

private:
    std::string sound_;
    int period_;
    std::string server_name_;
};

}  // namespace tripline::live
