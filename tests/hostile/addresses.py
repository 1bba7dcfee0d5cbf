"""Addresses and search texts: what a path, a name, a number or a list must not be taken for."""

from __future__ import annotations

from urllib.parse import quote

from hostile.inputs import MODEL, TEXTS, Hostile, asking, get, request

_PATHS = [
    "/..", "/../..", "/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2fetc%2fpasswd", "/..;/", "//",
    "///v1",
    "/./v1/models", "/v1/./models", "/v1/models/../graphs", "/v1/models/%2e%2e/graphs", "/v1//models", "/v1/models//",
    "/v1/models/%00", "/v1/models/a%00b", "/v1/models/%ff%fe", "/v1/models/%c0%ae%c0%ae", "/v1/models/%ed%a0%80",
    "/v1/models/%zz", "/v1/models/%", "/v1/models/%2", "/v1/models/%252e%252e", "/v1/models/%0d%0aset-cookie:a=b",
    "/v1/models/" + "a" * 4_000, "/v1/models/" + "%41" * 3_000, "/v1/models/" + "/".join("abcdefgh" * 30),
    "/v1/models/*", "/v1/models/{model}", "/v1/models/$", "/v1/models/-", "/v1/models/%20", "/v1/models/%E2%80%AE",
    "/v1/graphs/..%2f..%2fetc%2fpasswd", "/v1/graphs/.", "/v1/graphs/..", "/v1/graphs/%2e", "/v1/graphs/checked.json",
    "/v1/graphs/tolvane-galewood.ttl", "/v1/graphs/tolvane-galewood/versions/0", "/v1/graphs/CON", "/v1/graphs/a%2fb",
    "/v1/graphs/tolvane-galewood/versions/-1", "/v1/graphs/tolvane-galewood/versions/99999999999999999999999999",
    "/v1/graphs/tolvane-galewood/versions/1e3", "/v1/graphs/tolvane-galewood/versions/%D9%A1",
    "/v1/graphs/" + "a" * 300,
    "/v1/graphs/tolvane-galewood/difference?before=1&after=99999999999999999999",
    "/v1/models/tgd27-460-s/components/%2f",
    "/v1/models/tgd27-460-s/codes/" + "9" * 3_000, "/v1/models/tgd27-460-s/codes/%F0%9F%98%80", "/v1/refrigerants/../x",
    "/worker.js/../../pyproject.toml", "/core/..%2f..%2f..%2fpyproject.toml", "/words/%2e%2e/%2e%2e/package.json",
    "/screens/....//....//", "/icons/..%5c..%5c", "/main.js%00.html", "/main.js/", "/.git/config", "/.env",
    "/sparql/..",
    "/healthz/../readyz", "/?", "/?=", "/?&&&&", "/?%", "/#fragment", "/v1/search?q", "/v1/search?q=%", "/v1/search?=q",
    "/v1/search?q=a&q=b&q=c", "/v1/search?q[]=a", "/v1/search?q=a;limit=1", "/v1/search?" + "q=a&" * 2_000,
    "/v1/search?q=" + "a" * 16_500, "/v1/search?q=" + "%00" * 5_000, "*", "http://localhost/v1/models",
    "http://other.example/v1/models", "//other.example/v1/models", "/v1/models?number=" + "O" * 5_000,
]  # fmt: skip

_NUMBERS = [
    "-1", "0", "1.5", "1e3", "1e400", "-1e400", "nan", "inf", "-inf", "99999999999999999999", "0x10", "1_000", "+1",
    "٣", " 1 ", "", "1,1", "true", "1" * 4_000,
]  # fmt: skip

_NUMERIC = [
    ("/v1/search", "limit", {"q": "drum"}),
    (f"{MODEL}/components", "offset", {}),
    ("/v1/refrigerants/r600a/saturation", "celsius", {}),
    (f"{MODEL}/components/cycling-thermistor/curve", "ohms", {}),
]

_NAMES = [
    (f"{MODEL}/removal-plan", "reach"),
    (f"{MODEL}/live-points", "opened"),
    (f"{MODEL}/isolation", "touch"),
    (f"{MODEL}/diagnosis", "symptoms"),
]

_LISTS = [
    ",", ",,,,", "drum-belt," * 400, ",".join(f"part-{number}" for number in range(900)), "drum-belt:", ":test",
    "a:b:c:d",
    "drum-belt:replace,drum-belt:test," * 100, "drum-belt:no-such-purpose", "=" * 200, "drum-belt;drive-motor",
    "DRUM-BELT", "drum--belt", "drum-belt\x00", "../drum-belt", "https://firstoff.example/component/drum-belt",
]  # fmt: skip

SEARCHES: list[Hostile] = [
    *(asking("/v1/search", q=text) for text in TEXTS),
    *(asking("/v1/suggest", q=text) for text in TEXTS[::4]),
    *(asking("/v1/models", number=text) for text in TEXTS[::4]),
    *(asking(f"{MODEL}/diagnosis", symptoms=text) for text in TEXTS[::6]),
    *(asking("/v1/search", q="drum", lang=text) for text in TEXTS[::8]),
    *(asking("/v1/search", q="drum", model=text) for text in TEXTS[::8]),
    *(asking(f"{MODEL}/removal-plan", reach="drum-belt", serial=text) for text in TEXTS[::6]),
]

ADDRESSES: list[Hostile] = [
    *(get(path) for path in _PATHS),
    *(asking(address, **{**more, name: number}) for address, name, more in _NUMERIC for number in _NUMBERS),
    *(asking(address, **{name: text}) for address, name in _NAMES for text in _LISTS),
    *(get("/v1/models/" + quote(text.encode("utf-8", "surrogatepass"), safe="")) for text in TEXTS[::3]),
    *(
        request(method, "/v1/models")
        for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "PROPFIND", "get", "A" * 300)
    ),
]
