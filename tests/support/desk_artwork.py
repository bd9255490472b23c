"""A small plan of a month, as somebody might have drawn it in a drawing program of theirs."""

PLAN = """\
<svg xmlns="http://www.w3.org/2000/svg" width="48mm" height="28mm" viewBox="0 0 48 28">
<title>Ferry plan</title><linearGradient id="g"><stop offset="0" stop-color="#c03050"/>\
<stop offset="1" stop-color="#e0a040"/></linearGradient>
<g id="title"><circle cx="8" cy="3" r="2" fill="url(#g)"/>\
<text x="24" y="5" font-size="4" text-anchor="middle" fill="#123">May</text></g>
<g id="grid" fill="none" stroke="#123" stroke-width=".4">
<path d="M3 7H45M3 11H45M3 15H45M3 19H45M3 23H45M3 27H45"/>
<path d="M3 7V27M9 7V27M15 7V27M21 7V27M27 7V27M33 7V27M39 7V27M45 7V27"/></g>
</svg>
"""
