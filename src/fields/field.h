// The field table: the one declaration of a struct from which its reading, writing, error
// sentences, JSON Schema and help all come (read.h, write.h, schema.h).
//
//   struct Restrictor {
//     units::VolumeFlow flow;                       // at the plate's pressure
//     units::Pressure pressure = units::bar(6);
//     std::optional<std::string> maker;
//     fields::Json unknown;                         // optional: keeps what we do not know
//   };
//   template <>
//   struct fields::Table<Restrictor> {
//     static constexpr std::string_view name = "restrictor";
//     static constexpr auto list = std::make_tuple(
//         field("flow_mL_min", &Restrictor::flow, Range{1, 20000}, kRequired),
//         field("pressure_bar", &Restrictor::pressure, Range{0.5, 16}),
//         field("maker", &Restrictor::maker, kNotAsked));
//     static constexpr auto unknown = &Restrictor::unknown;                    // if it has one
//     static base::Result<base::Done> check(const Restrictor&, const fields::Path&);  // if any
//   };
//
// The unit is the suffix of the key (units/unit.h) and must have the dimension of the member: else
// it does not compile. A plain double may carry only a unit without dimension. Range is in that
// unit; of a list or a text it is the number of entries or characters, and Each is the range of a
// list's entries. The default is the value in T{}. What the field means is said by the catalogue
// under "field.<name>.<key>", a noun phrase: "the flow printed on the restrictor".
//
// Members may be Quantity, double, integers, bool, std::string, an enum with an EnumTable, another
// struct with a Table, std::optional and std::vector of these, and any type with a Codec.
#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include "base/result.h"
#include "fields/path.h"
#include "units/unit.h"

namespace drawoff::fields {

using Json = nlohmann::ordered_json;

// Inclusive, in the unit of the key.
struct Range {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
};
constexpr Range at_least(double low) { return {low, std::numeric_limits<double>::infinity()}; }
constexpr Range at_most(double high) { return {-std::numeric_limits<double>::infinity(), high}; }

// The range of each entry of a list.
struct Each {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
};

enum class Ask {
  kOptional,  // a form offers it; absent, it has its default
  kRequired,  // must be given
  kNotAsked,  // as kOptional, but no form offers it
  kMayLack,   // of a struct: absent, it is as T{} makes it; a check says when it must be there
};
inline constexpr Ask kOptional = Ask::kOptional;
inline constexpr Ask kRequired = Ask::kRequired;
inline constexpr Ask kNotAsked = Ask::kNotAsked;
inline constexpr Ask kMayLack = Ask::kMayLack;

// An absent std::optional is written as null instead of being left out: for results, where a
// program must see that a value could not be given.
enum class Absent { kOmitted, kNull };
inline constexpr Absent kNullWhenAbsent = Absent::kNull;

template <class T>
struct Table;

// template <> struct fields::EnumTable<Kind> {
//   static constexpr std::string_view name = "restrictor_kind";
//   static constexpr std::array list = {choice(Kind::kOrifice, "orifice"), …};
// };
template <class E>
struct EnumTable;
template <class E>
struct Choice {
  E value;
  std::string_view name;
};
template <class E>
constexpr Choice<E> choice(E value, std::string_view name) {
  return {value, name};
}

// The name of a value in its EnumTable; empty if the table lacks it.
template <class E>
constexpr std::string_view name_of(E value) {
  for (const auto& c : EnumTable<E>::list) {
    if (c.value == value) return c.name;
  }
  return {};
}

struct ReadContext;

// Where a value stands and what may stand there: all that an error sentence needs.
struct Place {
  Path path;
  std::string meaning;  // id of the catalogue, empty at the root
  const units::Unit* unit = nullptr;
  Range range = {};
};

// A type that reads, writes and describes itself (a table of ions, a reading with uncertainty):
//
//   template <> struct fields::Codec<Ions> {
//     static base::Result<Ions> read(const Json&, const Place&, ReadContext&);
//     static Json write(const Ions&, const units::Unit*);
//     static Json schema(const units::Unit*);
//   };
//
// Errors come from the functions of errors.h. `unit` is that of the key ("ions_mg_L"), or null.
template <class X>
struct Codec;

namespace detail {

template <class X>
concept HasTable = requires {
  Table<X>::list;
};
template <class X>
concept HasCodec = requires {
  &Codec<X>::write;
};
template <class X>
concept KeepsUnknown = requires {
  Table<X>::unknown;
};
template <class X>
concept IsChecked = requires {
  &Table<X>::check;
};

// What is left when lists and optionals are taken off.
template <class X>
struct Leaf {
  using Type = X;
};
template <class X>
struct Leaf<std::optional<X>> : Leaf<X> {};
template <class X, class A>
struct Leaf<std::vector<X, A>> : Leaf<X> {};

template <class X>
struct DimensionOf {
  static constexpr bool kIsQuantity = false;
};
template <class D>
struct DimensionOf<units::Quantity<D, double>> {
  static constexpr bool kIsQuantity = true;
  static constexpr units::Exponents exponents = units::kExponents<D>;
};

// Not defined: to call them while compiling is the error message.
void the_key_needs_the_unit_of_its_quantity_as_suffix();
void a_plain_number_cannot_have_a_unit_with_dimension();

}  // namespace detail

template <class T, class M>
struct Field {
  std::string_view key;
  M T::*member;
  const units::Unit* unit = nullptr;
  Range range = {};
  Range each = {};
  Ask ask = Ask::kOptional;
  Absent absent = Absent::kOmitted;

  constexpr void apply(Range r) { range = r; }
  constexpr void apply(Each r) { each = {r.low, r.high}; }
  constexpr void apply(Ask a) { ask = a; }
  constexpr void apply(Absent a) { absent = a; }
};

// Options in any order: Range, Each, one of kRequired kOptional kNotAsked kMayLack,
// kNullWhenAbsent.
template <class T, class M, class... Options>
constexpr Field<T, M> field(std::string_view key, M T::*member, Options... options) {
  using X = typename detail::Leaf<M>::Type;
  Field<T, M> out{key, member};
  constexpr bool kQuantity = detail::DimensionOf<X>::kIsQuantity && !detail::HasCodec<X>;
  constexpr bool kNumber =
      std::is_arithmetic_v<X> && !std::is_same_v<X, bool> && !detail::HasCodec<X>;
  if constexpr (kQuantity || kNumber || detail::HasCodec<X>) {
    const int unit = units::unit_index(key);
    const auto dimension =
        unit < 0 ? units::Exponents{} : units::kUnits[static_cast<std::size_t>(unit)].dimension;
    if constexpr (kQuantity) {
      if (!(dimension == detail::DimensionOf<X>::exponents)) {
        detail::the_key_needs_the_unit_of_its_quantity_as_suffix();
      }
    } else if constexpr (kNumber) {
      if (!(dimension == units::Exponents{})) {
        detail::a_plain_number_cannot_have_a_unit_with_dimension();
      }
    }
    if (unit >= 0) out.unit = &units::kUnits[static_cast<std::size_t>(unit)];
  }
  (out.apply(options), ...);
  return out;
}

// ---- The same without templates: what read.cc, write.cc and schema.cc work on. ----
namespace detail {

struct Object;

enum class Kind { kNumber, kInteger, kBoolean, kText, kChoice, kList, kOptional, kObject, kCustom };

// A value of any type, made by T{}.
using Holder = std::unique_ptr<void, void (*)(void*)>;

// How values of one C++ type are handled. Only the members of its kind are set.
struct Type {
  Kind kind = Kind::kObject;
  // kNumber: SI, or as it is
  double (*number)(const void*) = nullptr;
  void (*set_number)(void*, double) = nullptr;
  // kInteger; also kBoolean (0, 1) and kChoice (index in names)
  long long (*integer)(const void*) = nullptr;
  void (*set_integer)(void*, long long) = nullptr;
  long long lowest = 0;
  long long highest = 0;
  std::string_view (*name)(std::size_t) = nullptr;  // kChoice
  std::size_t names = 0;
  std::string_view choices;  // name of the EnumTable
  // kText
  std::string* (*text)(void*) = nullptr;
  // kList, kOptional
  const Type* inner = nullptr;
  std::size_t (*size)(const void*) = nullptr;  // kOptional: 0 or 1
  const void* (*item)(const void*, std::size_t) = nullptr;
  void* (*append)(void*) = nullptr;
  void (*clear)(void*) = nullptr;
  // kObject
  const Object* object = nullptr;
  // kCustom
  std::optional<base::Error> (*read)(void*, const Json&, const Place&, ReadContext&) = nullptr;
  void (*write)(const void*, const units::Unit*, Json& out) = nullptr;
  void (*schema)(const units::Unit*, Json& out) = nullptr;
};

struct FieldInfo {
  std::string_view key;
  const units::Unit* unit;
  Range range;
  Range each;
  Ask ask;
  Absent absent;
  const Type* type;
  void* (*member)(void*);  // of the struct at this address
};

struct Object {
  std::string_view name;
  std::span<const FieldInfo> fields;
  Json* (*unknown)(void*);
  std::optional<base::Error> (*check)(const void*, const Path&);
  Holder (*make)();
};

template <class X>
struct TypeOf;

template <class T, std::size_t I>
void* member_of(void* object) {
  return &(static_cast<T*>(object)->*std::get<I>(Table<T>::list).member);
}

template <class T, std::size_t I>
constexpr FieldInfo info_of() {
  constexpr auto& f = std::get<I>(Table<T>::list);
  using M = std::remove_reference_t<decltype(std::declval<T&>().*f.member)>;
  return {f.key, f.unit, f.range, f.each, f.ask, f.absent, &TypeOf<M>::value, &member_of<T, I>};
}

template <class T, std::size_t... I>
constexpr std::array<FieldInfo, sizeof...(I)> infos_of(std::index_sequence<I...> /*indices*/) {
  return {info_of<T, I>()...};
}

template <class T>
struct ObjectOf {
  using List = std::remove_const_t<decltype(Table<T>::list)>;
  static constexpr auto fields = infos_of<T>(std::make_index_sequence<std::tuple_size_v<List>>());

  static constexpr bool keys_differ() {
    for (std::size_t i = 0; i < fields.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (fields[i].key == fields[j].key) return false;
      }
    }
    return true;
  }
  static_assert(keys_differ(), "two fields of one table have the same key");

  using Unknown = Json* (*)(void*);
  static constexpr Unknown unknown_of() {
    if constexpr (KeepsUnknown<T>) {
      return [](void* object) -> Json* { return &(static_cast<T*>(object)->*Table<T>::unknown); };
    } else {
      return nullptr;
    }
  }

  using Check = std::optional<base::Error> (*)(const void*, const Path&);
  static constexpr Check check_of() {
    if constexpr (IsChecked<T>) {
      return [](const void* object, const Path& path) -> std::optional<base::Error> {
        const auto result = Table<T>::check(*static_cast<const T*>(object), path);
        if (result) return std::nullopt;
        return result.error();
      };
    } else {
      return nullptr;
    }
  }

  static Holder make() {
    return {new T{}, [](void* object) { delete static_cast<T*>(object); }};
  }

  static constexpr Object value{Table<T>::name, fields, unknown_of(), check_of(), &make};
};

template <class X>
constexpr Type number_type() {
  Type t;
  t.kind = Kind::kNumber;
  if constexpr (DimensionOf<X>::kIsQuantity) {
    t.number = [](const void* x) { return static_cast<const X*>(x)->si(); };
  } else {
    t.number = [](const void* x) { return static_cast<double>(*static_cast<const X*>(x)); };
  }
  t.set_number = [](void* x, double si) { *static_cast<X*>(x) = X(si); };
  return t;
}

template <class X>
constexpr Type integer_type() {
  static_assert(sizeof(X) <= sizeof(long long), "an integer wider than JSON can carry");
  Type t;
  t.kind = std::is_same_v<X, bool> ? Kind::kBoolean : Kind::kInteger;
  t.integer = [](const void* x) { return static_cast<long long>(*static_cast<const X*>(x)); };
  t.set_integer = [](void* x, long long n) { *static_cast<X*>(x) = static_cast<X>(n); };
  constexpr auto kMost = std::numeric_limits<long long>::max();
  using Limits = std::numeric_limits<X>;
  t.lowest = static_cast<long long>(Limits::min());
  t.highest =
      static_cast<unsigned long long>(Limits::max()) > static_cast<unsigned long long>(kMost)
          ? kMost
          : static_cast<long long>(Limits::max());
  return t;
}

template <class E>
constexpr Type choice_type() {
  Type t;
  t.kind = Kind::kChoice;
  t.names = EnumTable<E>::list.size();
  t.choices = EnumTable<E>::name;
  t.name = [](std::size_t i) { return EnumTable<E>::list[i].name; };
  t.integer = [](const void* x) -> long long {
    for (std::size_t i = 0; i < EnumTable<E>::list.size(); ++i) {
      if (EnumTable<E>::list[i].value == *static_cast<const E*>(x)) {
        return static_cast<long long>(i);
      }
    }
    return -1;
  };
  t.set_integer = [](void* x, long long i) {
    *static_cast<E*>(x) = EnumTable<E>::list[static_cast<std::size_t>(i)].value;
  };
  return t;
}

template <class X>
constexpr Type custom_type() {
  Type t;
  t.kind = Kind::kCustom;
  t.read = [](void* x,
              const Json& json,
              const Place& place,
              ReadContext& context) -> std::optional<base::Error> {
    auto result = Codec<X>::read(json, place, context);
    if (!result) return result.error();
    *static_cast<X*>(x) = std::move(result).value();
    return std::nullopt;
  };
  t.write = [](const void* x, const units::Unit* unit, Json& out) {
    out = Codec<X>::write(*static_cast<const X*>(x), unit);
  };
  t.schema = [](const units::Unit* unit, Json& out) { out = Codec<X>::schema(unit); };
  return t;
}

template <class X>
constexpr Type plain_type() {
  if constexpr (HasCodec<X>) {
    return custom_type<X>();
  } else if constexpr (DimensionOf<X>::kIsQuantity || std::is_floating_point_v<X>) {
    return number_type<X>();
  } else if constexpr (std::is_integral_v<X>) {
    return integer_type<X>();
  } else if constexpr (std::is_enum_v<X>) {
    return choice_type<X>();
  } else if constexpr (std::is_same_v<X, std::string>) {
    Type t;
    t.kind = Kind::kText;
    t.text = [](void* x) { return static_cast<std::string*>(x); };
    return t;
  } else {
    static_assert(HasTable<X>, "the type needs a fields::Table or a fields::Codec");
    Type t;
    t.kind = Kind::kObject;
    t.object = &ObjectOf<X>::value;
    return t;
  }
}

template <class X>
struct TypeOf {
  static constexpr Type value = plain_type<X>();
};

template <class X>
struct TypeOf<std::optional<X>> {
  static constexpr Type make() {
    Type t;
    t.kind = Kind::kOptional;
    t.inner = &TypeOf<X>::value;
    t.size = [](const void* x) -> std::size_t {
      return static_cast<const std::optional<X>*>(x)->has_value() ? 1 : 0;
    };
    t.item = [](const void* x, std::size_t /*index*/) -> const void* {
      return &**static_cast<const std::optional<X>*>(x);
    };
    t.append = [](void* x) -> void* { return &static_cast<std::optional<X>*>(x)->emplace(); };
    t.clear = [](void* x) { static_cast<std::optional<X>*>(x)->reset(); };
    return t;
  }
  static constexpr Type value = make();
};

template <class X>
struct TypeOf<std::vector<X>> {
  static_assert(!std::is_same_v<X, bool>, "std::vector<bool> has no elements to point at");
  static constexpr Type make() {
    Type t;
    t.kind = Kind::kList;
    t.inner = &TypeOf<X>::value;
    t.size = [](const void* x) { return static_cast<const std::vector<X>*>(x)->size(); };
    t.item = [](const void* x, std::size_t i) -> const void* {
      return &(*static_cast<const std::vector<X>*>(x))[i];
    };
    t.append = [](void* x) -> void* { return &static_cast<std::vector<X>*>(x)->emplace_back(); };
    t.clear = [](void* x) { static_cast<std::vector<X>*>(x)->clear(); };
    return t;
  }
  static constexpr Type value = make();
};

}  // namespace detail

}  // namespace drawoff::fields
