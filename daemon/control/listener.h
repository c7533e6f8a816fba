// The socket itself: a file that members of one group may connect to.
#pragma once

#include "daemon/lines/descriptor.h"

#include <string>

namespace tripline::control {

class Listener {
public:
    /// Mode 0660 for group `tripline` where there is one that this process may give the file
    /// to, else 0600. A socket left behind is replaced when nobody answers at it. Throws
    /// std::runtime_error that names the path.
    explicit Listener(const std::string& path);
    /// Takes the file away, if it is still this one.
    ~Listener();
    Listener(const Listener&) = delete;
    Listener& operator=(const Listener&) = delete;

    int descriptor() const noexcept { return socket_.get(); }
    /// Nobody waits: not valid. Never blocks.
    lines::Descriptor accept() const;

private:
    std::string path_;
    lines::Descriptor socket_;
    unsigned long file_ = 0;  // inode
};

}  // namespace tripline::control
