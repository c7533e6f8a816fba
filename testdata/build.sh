#!/bin/sh
# Builds evening.flac, evening.rttm and practice.flac from the texts below: flite and espeak-ng speak, sox
# makes the small sounds of the room, scenario_maker (from the project's build) mixes and
# labels. Usage: testdata/build.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
maker=${1:?usage: testdata/build.sh BUILD_FOLDER}/tests/scene/scenario_maker
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

marta() { flite -voice slt -t "$2" -o "$work/$1.wav"; }
ilse() { espeak-ng -v en-gb+f4 -s 155 -w "$work/$1.wav" "$2"; }
room() { name=$1; shift; sox -R -n -r 16000 "$work/$name.wav" "$@"; }

ilse ilse1 "Quebec seven mike victor november, this is quebec three india bravo romeo. Good evening Marta. Over."
marta marta1 "Good evening Ilse. The grey transmitter is warm, and the wind at Harrow Ness has dropped. How deep is the snow at the hut? Over."
ilse ilse2 "One metre and a half at the door of Kolmen Fell. The stove is lit, and the battery holds. Do you copy? Over."
marta marta2 "Yes, all copied."
ilse ilse3 "I will call you again tomorrow at eight. Good night, Marta."
marta marta3 "Tomorrow at eight. Good night. This is quebec seven mike victor november, closing down."

ilse ilse4 "Hello Marta, I read from the book on the shelf. The path over the fell begins at the lower hut, and crosses the stream three times. Over."
marta marta4 "This is my voice as on the air. Quebec seven mike victor november. The boat came in at noon, and the wind is west."
marta marta5 "And this is my soft voice. The stairs have ninety two steps, and I count them every evening."

# A key of a keyboard, a relay, a chair: short bursts of noise and a creak.
room key synth 0.012 whitenoise band -n 1800 1600 fade h 0 0.012 0.011
room relay synth 0.008 whitenoise band -n 1200 900 fade h 0 0.008 0.007
room chair synth 0.09 sine 95:140 synth 0.09 whitenoise amod 40 lowpass 250 fade h 0.03 0.09 0.05

"$maker" "$here/evening.cues" "$work" "$here/evening"
"$maker" "$here/practice.cues" "$work" "$here/practice"
rm "$here/practice.rttm"
