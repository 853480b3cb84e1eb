// For the tests of this folder: a site file like those of the demo, in the form it is written in,
// and short-hands for entries. Invented.
#pragma once

#include <string>
#include <string_view>
#include <utility>

#include "book/site_file.h"
#include "messages/catalogue.h"

namespace drawoff::book {

// Keys in the order of the tables, indented by two: so it comes back byte for byte. With fields
// that nothing here knows at every level, a kind of a later version and numbers of every form.
inline constexpr std::string_view kExampleFile = R"({
  "schema": "drawoff.site",
  "version": 1,
  "entries": [
    {
      "id": "01957a2e-4c00-7abc-8def-000000000001",
      "at": "2025-03-09T08:15:00Z",
      "author": "r.tamm",
      "device": "van1",
      "clock": "2025-03-09T08:15:00.000Z-0000-van1",
      "kind": "site",
      "body": {
        "name": "Schule Ödenau · बोरवेल"
      }
    },
    {
      "id": "01957a2e-4c00-7abc-8def-000000000002",
      "at": "2025-03-09T08:15:00.25Z",
      "author": "r.tamm",
      "device": "van1",
      "clock": "2025-03-09T08:15:00.250Z-0001-van1",
      "kind": "survey",
      "body": {
        "source": "borehole",
        "water": {
          "temperature_C": 12.0,
          "pH": 7.3,
          "ions_mg_L": {
            "Fe": {
              "lt": 0.02
            },
            "Ca": 115
          },
          "laboratory": null
        }
      }
    },
    {
      "id": "01957a2e-4c00-7abc-8def-000000000003",
      "at": "2025-03-09T09:00:00Z",
      "author": "r.tamm",
      "device": "van1",
      "clock": "2025-03-09T09:00:00.000Z-0000-van1",
      "kind": "machine",
      "body": {
        "name": "unit 1"
      },
      "signature": [
        1,
        -0.5,
        1e-07,
        true
      ]
    },
    {
      "id": "01957a2e-4c00-7abc-8def-000000000004",
      "at": "2025-03-09T10:00:00Z",
      "author": "r.tamm",
      "device": "van1",
      "clock": "2025-03-09T10:00:00.000Z-0000-van1",
      "kind": "photo",
      "body": {}
    },
    {
      "id": "01957a2e-4c00-7abc-8def-000000000005",
      "at": "2025-03-09T10:05:00Z",
      "author": "k.olu",
      "device": "phone-2",
      "clock": "2025-03-09T10:05:00.000Z-00ff-phone-2",
      "kind": "reading",
      "supersedes": "01957a2e-4c00-7abc-8def-000000000004",
      "body": {
        "point": "product",
        "value": 61.50000000000001
      }
    }
  ],
  "made_by": {
    "name": "an importer",
    "big": 123456789012345678
  }
}
)";

inline std::string id_of(int n) {
  std::string digits = std::to_string(n);
  digits.insert(0, 12 - digits.size(), '0');
  return "01957a2e-4c00-7abc-8def-" + digits;
}

struct Made {
  int id = 0;
  int minute = 0;  // after nine o'clock
  std::string kind = "reading";
  int supersedes = 0;  // 0: nothing
  std::string says = {};
};

inline Entry entry(const Made& made) {
  Entry out;
  out.id = {id_of(made.id)};
  std::string minute = std::to_string(made.minute);
  minute.insert(0, 2 - minute.size(), '0');
  out.at = {"2025-03-09T09:" + minute + ":00Z"};
  out.author = "r.tamm";
  out.device = "van1";
  out.clock = {"2025-03-09T09:" + minute + ":00.000Z-0000-van1"};
  out.kind = made.kind;
  if (made.supersedes != 0) out.supersedes = Uuid{id_of(made.supersedes)};
  out.body.json["says"] = made.says;
  return out;
}

inline std::string words(const base::Message& message) {
  return messages::render(messages::catalogue("en"), message);
}

}  // namespace drawoff::book
