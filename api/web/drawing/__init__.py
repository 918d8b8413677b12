"""Own drawings: facts in, frozen shapes out; a template puts them down as SVG."""
