package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.ETag;
import io.undertow.util.ETagUtils;
import io.undertow.util.Headers;
import io.undertow.util.Methods;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The page's own files, a fixed list read once from the jar: nothing else can be asked for. */
final class PageFiles implements HttpHandler {
  private static final String UPLOT = "/META-INF/resources/webjars/uplot/1.6.30/dist/";

  private static final List<String> SCRIPTS =
      List.of(
          "air",
          "api",
          "bump",
          "cans",
          "dom",
          "far",
          "first",
          "glyph",
          "house",
          "jobs",
          "kept",
          "lanes",
          "log",
          "mix",
          "page",
          "pair",
          "past",
          "plan",
          "programs",
          "screens",
          "sensors",
          "series",
          "sight",
          "sound",
          "strip",
          "units",
          "words");

  private record PageFile(String type, ByteBuffer bytes, ETag etag) {}

  private final Map<String, PageFile> files = new LinkedHashMap<>();

  PageFiles() {
    add("/", "page/index.html", "text/html; charset=utf-8");
    add("/pair.html", "page/pair.html", "text/html; charset=utf-8");
    add("/api/openapi.json", "page/openapi.json", "application/json");
    add("/mark.svg", "page/mark.svg", "image/svg+xml");
    add("/air.css", "page/air.css", "text/css; charset=utf-8");
    add("/page.css", "page/page.css", "text/css; charset=utf-8");
    for (String script : SCRIPTS) {
      add("/" + script + ".js", "page/" + script + ".js", "text/javascript; charset=utf-8");
    }
    add("/lib/uPlot.min.css", UPLOT + "uPlot.min.css", "text/css; charset=utf-8");
    add("/lib/uPlot.iife.min.js", UPLOT + "uPlot.iife.min.js", "text/javascript; charset=utf-8");
  }

  private void add(String path, String resource, String type) {
    try (InputStream in = PageFiles.class.getResourceAsStream(resource)) {
      if (in == null) {
        throw new IllegalStateException("page file " + resource + " is missing from the jar");
      }
      byte[] bytes = in.readAllBytes();
      files.put(
          path,
          new PageFile(
              type, ByteBuffer.wrap(bytes).asReadOnlyBuffer(), new ETag(false, digest(bytes))));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String digest(byte[] bytes) {
    try {
      byte[] hash = MessageDigest.getInstance("SHA-256").digest(bytes);
      return HexFormat.of().formatHex(hash, 0, 12);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Whoever is not paired finds the pairing screen in the place of the page. */
  private static String asked(HttpServerExchange exchange) {
    String path = exchange.getRequestPath();
    return path.equals("/") && !AccessFilter.visitor(exchange).mayRead() ? "/pair.html" : path;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) {
    PageFile file = files.get(asked(exchange));
    if (file == null) {
      Exchanges.send(exchange, Problem.of(404, "There is no such page."));
      return;
    }
    if (!exchange.getRequestMethod().equals(Methods.GET)
        && !exchange.getRequestMethod().equals(Methods.HEAD)) {
      exchange.getResponseHeaders().put(Headers.ALLOW, "GET, HEAD");
      Exchanges.send(exchange, Problem.of(405, "Only GET and HEAD are supported here."));
      return;
    }
    exchange.getResponseHeaders().put(Headers.ETAG, file.etag().toString());
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-cache");
    exchange.getResponseHeaders().put(Headers.VARY, "Cookie");
    if (!ETagUtils.handleIfNoneMatch(exchange, file.etag(), true)) {
      exchange.setStatusCode(304).endExchange();
      return;
    }
    exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, file.type());
    exchange.getResponseSender().send(file.bytes().duplicate());
  }
}
