// Opens OpenTimelineIO files with the standard's own C++ library and prints what that library makes of them, one JSON object
// to a line: the second opinion of the tests in ../src/otio. Made into a program by make-reader.sh.
#include <cstdio>
#include <iostream>
#include <string>

#include <opentimelineio/clip.h>
#include <opentimelineio/externalReference.h>
#include <opentimelineio/gap.h>
#include <opentimelineio/timeline.h>
#include <opentimelineio/version.h>

namespace otio = opentimelineio::OPENTIMELINEIO_VERSION;
using otio::ErrorStatus;
using opentime::RationalTime;
using opentime::TimeRange;

static std::string quoted(std::string const& text) {
    std::string out = "\"";
    for (unsigned char c : text) {
        char escaped[8];
        if (c == '"' || c == '\\' || c < 0x20) {
            std::snprintf(escaped, sizeof escaped, "\\u%04x", c);
            out += escaped;
        } else {
            out += static_cast<char>(c);
        }
    }
    return out + "\"";
}

static std::string number(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", value);
    return text;
}

static std::string time_of(RationalTime const& time) {
    return "{\"value\":" + number(time.value()) + ",\"rate\":" + number(time.rate()) + "}";
}

// The label that the library prints for a time, counted non-drop and drop-frame; null where it knows no timecode at the rate.
static std::string labels_of(RationalTime const& time) {
    std::string line = "{";
    for (bool drop : { false, true }) {
        opentime::ErrorStatus status;
        auto const counting = drop ? opentime::IsDropFrameRate::ForceYes : opentime::IsDropFrameRate::ForceNo;
        std::string const label = time.to_timecode(time.rate(), counting, &status);
        line += std::string(drop ? ",\"DF\":" : "\"NDF\":") + (opentime::is_error(status) ? "null" : quoted(label));
    }
    return line + "}";
}

static std::string range_of(TimeRange const& range) {
    return "{\"start\":" + time_of(range.start_time()) + ",\"duration\":" + time_of(range.duration()) + "}";
}

static void demand(ErrorStatus const& status, char const* what) {
    if (otio::is_error(status)) {
        throw std::runtime_error(std::string(what) + ": " + status.full_description);
    }
}

static std::string item_line(otio::Item* item) {
    ErrorStatus status;
    std::string line = "{\"schema\":" + quoted(item->schema_name()) + ",\"name\":" + quoted(item->name());
    line += ",\"rangeInParent\":" + range_of(item->range_in_parent(&status));
    demand(status, "range_in_parent");
    line += ",\"trimmedRange\":" + range_of(item->trimmed_range(&status));
    demand(status, "trimmed_range");
    if (auto* clip = dynamic_cast<otio::Clip*>(item)) {
        line += ",\"availableRange\":" + range_of(clip->available_range(&status));
        demand(status, "available_range");
        line += ",\"labels\":" + labels_of(clip->available_range().start_time());
        line += ",\"key\":" + quoted(clip->active_media_reference_key());
        auto* external = dynamic_cast<otio::ExternalReference*>(clip->media_reference());
        line += ",\"url\":" + (external == nullptr ? std::string("null") : quoted(external->target_url()));
    }
    return line + "}";
}

static std::string timeline_line(std::string const& path) {
    ErrorStatus status;
    otio::SerializableObject::Retainer<> top(otio::SerializableObject::from_json_file(path, &status));
    demand(status, "from_json_file");
    auto* timeline = dynamic_cast<otio::Timeline*>(top.value);
    if (timeline == nullptr) throw std::runtime_error("the top object is no Timeline");

    std::string const text = timeline->to_json_string(&status);
    demand(status, "to_json_string");
    otio::SerializableObject::Retainer<> again(otio::SerializableObject::from_json_string(text, &status));
    demand(status, "from_json_string");

    std::string line = "{\"name\":" + quoted(timeline->name());
    line += ",\"globalStartTime\":" +
            (timeline->global_start_time() ? time_of(*timeline->global_start_time()) : std::string("null"));
    if (timeline->global_start_time()) line += ",\"labels\":" + labels_of(*timeline->global_start_time());
    line += ",\"duration\":" + time_of(timeline->duration(&status));
    demand(status, "duration");
    line += std::string(",\"survivesRoundTrip\":") + (again.value->is_equivalent_to(*timeline) ? "true" : "false");
    line += ",\"rewritten\":" + text;
    line += ",\"tracks\":[";
    bool first_track = true;
    for (auto const& child : timeline->tracks()->children()) {
        auto* track = dynamic_cast<otio::Track*>(child.value);
        if (track == nullptr) throw std::runtime_error("a child of the stack is no Track");
        if (!first_track) line += ",";
        first_track = false;
        line += "{\"name\":" + quoted(track->name()) + ",\"kind\":" + quoted(track->kind()) + ",\"items\":[";
        bool first_item = true;
        for (auto const& member : track->children()) {
            auto* item = dynamic_cast<otio::Item*>(member.value);
            if (item == nullptr) throw std::runtime_error("a child of a track is no Item");
            if (!first_item) line += ",";
            first_item = false;
            line += item_line(item);
        }
        line += "]}";
    }
    return line + "]}";
}

int main(int count, char** paths) {
    for (int at = 1; at < count; ++at) {
        try {
            std::string line = timeline_line(paths[at]);
            for (char& c : line) {
                if (c == '\n') c = ' ';
            }
            std::cout << line << "\n";
        } catch (std::exception const& error) {
            std::cout << "{\"error\":" << quoted(error.what()) << "}\n";
        }
    }
    return 0;
}
