// scene_maker OUT [--key=value ...]: writes OUT.wav (microphone left, receiver right)
// and OUT.rttm with the operator's and the far station's speech.
#include "tests/scene/scene_file.h"

#include <CLI/CLI.hpp>
#include <iostream>

namespace {

using namespace tripline;

struct Options {
    double rate_hz = 48000;
    double seconds = 120;
    double voice_dbfs = -26;
    double receiver_dbfs = -26;
    double leak_delay_ms = 5;
    double hold_ms = 1500;
    double near_gap_s = 2;
    scene::FileSettings files;
    scene::SceneSettings scene;
};

Duration seconds(double value) { return Duration{static_cast<Duration::rep>(value * 1e9)}; }

void declare(CLI::App& app, Options& o) {
    app.add_option("out", o.files.path, "Path of the scene without extension")->required();
    app.add_option("--rate", o.rate_hz, "Sample rate in Hz")->capture_default_str();
    app.add_option("--seconds", o.seconds, "Length")->capture_default_str();
    app.add_option("--seed", o.scene.seed, "Seed of everything random")->capture_default_str();
    app.add_option("--voice", o.voice_dbfs, "Operator's active level, dBFS")->capture_default_str();
    app.add_option("--receiver", o.receiver_dbfs, "Far speech's active level, dBFS")
        ->capture_default_str();
    app.add_option("--leak", o.scene.leak.value, "Far speech at the microphone, dB to the voice")
        ->capture_default_str();
    app.add_option("--leak-delay", o.leak_delay_ms, "ms")->capture_default_str();
    app.add_option("--open-band", o.scene.radio.open_band.value, "Receiver noise, dB to far speech")
        ->capture_default_str();
    app.add_option("--room", o.scene.room.value, "Pink room noise, dB to the voice")
        ->capture_default_str();
    app.add_option("--noise", o.scene.noise,
                   "pink, hum, keyboard, footsteps, impacts, crowd, slide or talkers");
    app.add_option("--noise-level", o.scene.noise_level.value, "dB to the voice")
        ->capture_default_str();
    app.add_option("--near-gap", o.near_gap_s, "Longest wait before the operator answers, s")
        ->capture_default_str();
    app.add_option("--hold", o.hold_ms, "Hang time of the station that mutes the receiver, ms")
        ->capture_default_str();
    app.add_flag("--never-muted", o.files.never_muted, "The receiver plays on while the operator speaks");
    app.add_flag("!--no-near", o.scene.script.near_speaks, "The operator is silent");
    app.add_flag("!--no-far", o.scene.script.far_speaks, "The far station is silent");
}

void finish(Options& o) {
    o.scene.script.length = seconds(o.seconds);
    o.scene.script.near_level = Dbfs{o.voice_dbfs};
    o.scene.script.far_level = Dbfs{o.receiver_dbfs};
    o.scene.script.near_answers.most = seconds(o.near_gap_s);
    o.files.hold = seconds(o.hold_ms / 1000);
    o.scene.path.delay = seconds(o.leak_delay_ms / 1000);
}

void make(const Options& o) {
    const Hertz rate{o.rate_hz};
    scene::Corpus corpus(rate);
    scene::Scene scene(o.scene, corpus);
    const auto overs = scene::write_files(o.files, scene, rate);
    std::cout << o.files.path << ".wav: seed " << o.scene.seed << ", " << o.seconds << " s, " << overs
              << " overs of the operator\n";
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app("Makes a two-channel scene with labels from recorded speech");
    Options options;
    declare(app, options);
    CLI11_PARSE(app, argc, argv);
    try {
        finish(options);
        make(options);
    } catch (const std::exception& error) {
        std::cerr << "scene_maker: " << error.what() << '\n';
        return 2;
    }
    return 0;
}
