# drawoff_room(name): the folder src/<name> as a library, with the tests and benchmarks beside its
# code. Rooms link to every room declared before them; script/lint holds includes to the stack.
set_property(GLOBAL PROPERTY drawoff_rooms "")
# In WebAssembly these are made small rather than fast: they compute little, and are loaded over a
# phone's signal.
set(drawoff_small_rooms base units messages fields transients visit book paper api)

# Sanitized, these are optimised as they are released: their sums take most of what the tests take.
set(drawoff_computing_rooms numerics water membrane plumbing machine transients inference)

# The tests of the api take as long as those of all other rooms together: in shards they use every core.
function(drawoff_test name)
  if(NOT name STREQUAL api)
    add_test(NAME ${name} COMMAND ${name}_test --gtest_brief=1)
    if(name STREQUAL visit)
      set_tests_properties(visit PROPERTIES COST 100) # the longest in one piece, begun first
    endif()
    return()
  endif()
  set(shards 6)
  math(EXPR last "${shards} - 1")
  foreach(shard RANGE ${last})
    add_test(NAME ${name}_${shard} COMMAND ${name}_test --gtest_brief=1)
    # Each its own report: of one name the last would be the only one.
    set(report "${CMAKE_BINARY_DIR}/reports/${name}_test_${shard}.xml")
    set_tests_properties(
      ${name}_${shard}
      PROPERTIES COST 100 # the longest, begun first
                 ENVIRONMENT
                 "GTEST_TOTAL_SHARDS=${shards};GTEST_SHARD_INDEX=${shard};GTEST_OUTPUT=xml:${report}")
  endforeach()
endfunction()

function(drawoff_room name)
  get_property(rooms GLOBAL PROPERTY drawoff_rooms)
  set(folder ${CMAKE_SOURCE_DIR}/src/${name})
  file(GLOB sources CONFIGURE_DEPENDS ${folder}/*.cc)
  set(tests ${sources})
  set(benchmarks ${sources})
  list(FILTER sources EXCLUDE REGEX "_(test|benchmark)\\.cc$")
  list(FILTER tests INCLUDE REGEX "_test\\.cc$")
  list(FILTER benchmarks INCLUDE REGEX "_benchmark\\.cc$")

  if(sources)
    add_library(drawoff_${name} STATIC ${sources})
    drawoff_engine(drawoff_${name})
    set(group rooms)
    if(EMSCRIPTEN AND name IN_LIST drawoff_small_rooms)
      target_compile_options(drawoff_${name} PRIVATE -Oz)
      set(group small_rooms)
    endif()
    if(DRAWOFF_SANITIZE AND name IN_LIST drawoff_computing_rooms)
      target_compile_options(drawoff_${name} PRIVATE -O2)
      set(group computing_rooms)
    endif()
    drawoff_precompile(drawoff_${name} ${group} ${drawoff_common_headers})
    set(scope PUBLIC)
  else()
    add_library(drawoff_${name} INTERFACE)
    set(scope INTERFACE)
  endif()
  target_link_libraries(drawoff_${name} ${scope} drawoff_options drawoff_data)
  foreach(room IN LISTS rooms)
    target_link_libraries(drawoff_${name} ${scope} drawoff_${room})
  endforeach()

  if(DRAWOFF_TESTS AND tests)
    find_package(GTest REQUIRED)
    add_executable(${name}_test ${tests})
    target_link_libraries(
      ${name}_test PRIVATE drawoff_${name} GTest::gtest GTest::gtest_main rapidcheck)
    # GCC 12, optimising, sees overruns in the strings of tests that are none, and sanitizing too, values
    # that are not set in the library's regular expressions.
    target_compile_options(${name}_test PRIVATE -Wno-array-bounds -Wno-restrict -Wno-stringop-overflow
                                                -Wno-maybe-uninitialized)
    drawoff_precompile(${name}_test tests ${drawoff_common_headers} <gtest/gtest.h>)
    target_compile_definitions(
      ${name}_test PRIVATE DRAWOFF_REFERENCE="${CMAKE_SOURCE_DIR}/data/reference")
    drawoff_test(${name})
  endif()
  if(DRAWOFF_TESTS AND benchmarks AND NOT DRAWOFF_SANITIZE)
    find_package(benchmark REQUIRED)
    add_executable(${name}_benchmark ${benchmarks})
    target_link_libraries(${name}_benchmark PRIVATE drawoff_${name} benchmark::benchmark_main)
    target_compile_definitions(
      ${name}_benchmark PRIVATE DRAWOFF_REFERENCE="${CMAKE_SOURCE_DIR}/data/reference")
  endif()
  set_property(GLOBAL APPEND PROPERTY drawoff_rooms ${name})
endfunction()
