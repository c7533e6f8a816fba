// Opens and closes the sound in a helper thread, because sound systems may hang: the
// service sees "busy" instead of waiting, and "hung" when it has lasted too long.
#pragma once

#include "config/settings.h"
#include "daemon/audio/live_engine.h"
#include "daemon/audio/recorder.h"
#include "daemon/audio/seat.h"
#include "daemon/black_box/black_box.h"

#include <functional>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tripline::service {

/// Makes a source; throws audio::Error.
using OpenSource = std::function<std::unique_ptr<audio::Source>()>;

class AudioKeeper {
public:
    static constexpr Duration opening_hangs_after = std::chrono::seconds{10};
    static constexpr Duration closing_hangs_after = std::chrono::seconds{3};
    static constexpr Duration recorder_patience = std::chrono::seconds{1};  ///< of a close; then its file is closed whenever the disk lets it

    enum class Condition : std::uint8_t { closed, opening, open, closing };

    AudioKeeper(audio::Pulse& pulse, audio::Doors& doors) : pulse_(pulse), doors_(doors) {}
    /// Waits for a close or an open that is under way: check hung() first.
    ~AudioKeeper();

    /// From the next open() on, what is heard goes there as well. It must outlive this.
    void keep_in(black_box::BlackBox& box) { black_box_ = &box; }
    /// From the next open() on, what is heard is told there as well, in a thread of its own.
    void tell(audio::Recorder::Listener listener) { listener_ = std::move(listener); }
    /// Only when closed. While the disk still holds an earlier recording up, none is begun, see recording_failed().
    void open(OpenSource open_source, const config::Settings& settings, std::string record_to, Duration now);
    /// Only when open.
    void close(Duration now);
    /// Only when open: an engine with other settings takes the place of the one that runs, while the sound goes
    /// on; `between` is called when the old one has told all and the new one has not begun. Takes some milliseconds.
    /// Otherwise nothing has changed: the engine has just keyed, or it cannot be done.
    enum class Exchange : std::uint8_t { done, not_at_rest, impossible };
    Exchange exchange_engine(const config::Settings& settings, const std::function<void()>& between);
    /// Takes the outcome of what was under way, if there is one.
    void poll(Duration now);

    Condition condition() const noexcept { return condition_; }
    bool hung(Duration now) const noexcept;
    /// Why the last open failed; empty when it worked.
    const std::string& failure() const noexcept { return failure_; }
    /// Only when open.
    const audio::Source& source() const noexcept { return *parts_->source; }
    bool recording_failed() const noexcept { return left_out_ || (parts_ && parts_->recorder && parts_->recorder->failed()); }

private:
    /// Destroyed from the bottom: the source goes before what its callback uses.
    struct Parts {
        std::unique_ptr<audio::Recorder> recorder;
        std::unique_ptr<audio::LiveEngine> engine;
        std::unique_ptr<audio::Seat> seat;
        std::unique_ptr<audio::Source> source;
    };
    std::unique_ptr<Parts> build(const OpenSource& open_source, const config::Settings& settings,
                                 const std::string& record_to);
    void take_outcome();
    void end_recorder(std::unique_ptr<audio::Recorder> recorder);
    bool renew_engine(const config::Settings& settings, const std::function<void()>& between);
    void begin_in_black_box(audio::LiveEngine& engine, Hertz rate, const config::Settings& settings);
    std::unique_ptr<audio::Recorder> make_recorder(const std::string& record_to, Hertz rate);

    // The service's thread; before_ is the helper thread's while it opens or closes.
    audio::Pulse& pulse_;
    audio::Doors& doors_;
    black_box::BlackBox* black_box_ = nullptr;
    audio::Recorder::Listener listener_;   ///< empty: nobody; called in the recorder's thread
    Condition condition_ = Condition::closed;
    Duration since_{0};
    std::string failure_;
    std::unique_ptr<Parts> parts_;
    std::unique_ptr<audio::LiveEngine> before_;  ///< of the last source, until the next takes over
    std::future<std::unique_ptr<Parts>> job_;
    /// A recorder that writes its last; on a disk that stands still for as long as that does.
    struct Ending {
        std::unique_ptr<audio::Recorder> recorder;
        std::future<void> ended;
    };
    std::vector<Ending> endings_;
    bool left_out_ = false;   ///< this recording, because of such a disk
};

}  // namespace tripline::service
