# Writes OUTPUT, a C++ source that holds the bytes of FILES: drawoff::paper::latin_regular() is what
# stands in latin_regular.ttf.
set(content "#include \"paper/latin_font.h\"\n\nnamespace drawoff::paper {\n")
foreach(file IN LISTS FILES)
  get_filename_component(name ${file} NAME_WE)
  file(READ ${file} bytes HEX)
  string(LENGTH "${bytes}" length)
  math(EXPR length "${length} / 2")
  string(REGEX REPLACE "(..)" "\\\\x\\1" bytes "${bytes}")
  string(APPEND content "\nstd::string_view ${name}() { return {\"${bytes}\", ${length}}; }\n")
endforeach()
string(APPEND content "\n}  // namespace drawoff::paper\n")
file(WRITE ${OUTPUT} "${content}")
