// A terminal's screen: only what changed is sent, in one piece a frame, so that nothing
// flickers and a slow line keeps up.
#pragma once

#include <string>
#include <vector>

namespace tripline::watch {

/// ECMA-48 sequences, as every terminal since the VT100 takes them. ASCII lines only.
class Screen {
public:
    static std::string enter();  ///< a screen of its own, without cursor
    static std::string leave();

    /// What to send so that the screen shows these lines; empty when it does.
    std::string show(const std::vector<std::string>& lines);

private:
    std::vector<std::string> shown_;
};

}  // namespace tripline::watch
