#include "daemon/tune/trial.h"

#include "daemon/tune/audience.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

namespace tripline::tune {
namespace {

/// Does each of `count` pieces of work once, on so many threads, and throws what one of them threw.
template <typename Work> void share_out(std::size_t count, unsigned workers, Work work) {
    std::atomic<std::size_t> next{0};
    std::mutex mutex;
    std::exception_ptr failure;
    const auto run = [&] {
        try {
            for (std::size_t i = next++; i < count; i = next++) work(i);
        } catch (...) {
            const std::scoped_lock lock(mutex);
            failure = std::current_exception();
        }
    };
    {
        std::vector<std::jthread> threads;
        for (unsigned i = 1; i < workers; ++i) threads.emplace_back(run);
        run();
    }
    if (failure) std::rethrow_exception(failure);
}

void try_recording(const replay::RecordingSource& source, const replay::LabelSet& labels,
                   const std::vector<station::Settings>& settings, std::vector<replay::Score>& scores, unsigned workers,
                   const std::function<void(Frames, Frames)>& progress) {
    replay::Recording recording(source);
    const Duration length = to_duration(recording.length(), recording.rate());
    const auto speech = replay::operator_speech(labels, source, length);
    Audience audience(settings, recording.rate(), workers);
    Frames at;
    for (Page page = read_page(recording); !page.microphone.empty(); page = read_page(recording)) {
        share_out(audience.ears(), workers, [&](std::size_t i) { audience.hear(i, page); });
        share_out(audience.parts(), workers, [&](std::size_t i) { audience.judge(i, page); });
        at += page.length();
        progress(at, recording.length());
    }
    audience.close(at);
    for (std::size_t i = 0; i < settings.size(); ++i) {
        scores[i] += replay::score(speech, audience.spells(i), replay::timing_of(settings[i]), length);
    }
}

}  // namespace

std::vector<replay::Score> try_all(const std::vector<replay::RecordingSource>& recordings,
                                   const replay::LabelSet& labels,
                                   const std::vector<station::Settings>& settings, unsigned workers,
                                   const std::function<void(double)>& progress) {
    std::vector<replay::Score> scores(settings.size());
    for (std::size_t i = 0; i < recordings.size(); ++i) {
        try_recording(recordings[i], labels, settings, scores, std::max(1U, workers), [&](Frames at, Frames of) {
            const double within = static_cast<double>(at.count) / static_cast<double>(of.count);
            if (progress) progress((static_cast<double>(i) + within) / static_cast<double>(recordings.size()));
        });
    }
    return scores;
}

}  // namespace tripline::tune
