// Real human speech and everyday noises, from Debian packages.
#pragma once

#include "tests/scene/clip.h"

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

namespace tripline::scene {

/// One person and the recordings of that person.
struct Talker {
    std::string name;
    std::vector<std::string> files;
};

/// asterisk-core-sounds-en-wav, -it-wav, alsa-utils and the clean read speech of
/// pocketsphinx-testdata. Talkers whose package is not installed are absent.
std::vector<Talker> find_talkers();

/// Files of a noise: "keyboard" (bucklespring-data), "footsteps" (lugaru-data),
/// "crowd" (tuxfootball), "slide" (extremetuxracer-data), "impacts" (lugaru-data).
/// Throws std::runtime_error naming the package when it is not installed.
std::vector<std::string> noise_files(const std::string& name);

/// Clips by path, loaded at the scene's rate when first asked for and kept.
/// Any thread may use it; a clip's address stays good.
class Corpus {
public:
    explicit Corpus(Hertz rate);

    Hertz rate() const { return rate_; }
    const std::vector<Talker>& talkers() const { return talkers_; }
    const Clip& clip(const std::string& path);

private:
    const Hertz rate_;
    const std::vector<Talker> talkers_;
    std::mutex mutex_;
    std::map<std::string, std::unique_ptr<Clip>> clips_;  ///< guarded by mutex_
};

}  // namespace tripline::scene
