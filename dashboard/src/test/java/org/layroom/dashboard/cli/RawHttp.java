package org.layroom.dashboard.cli;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.StringJoiner;

/** Requests as bytes, so that Host, Origin and methods are what no HTTP client would send. */
final class RawHttp {
  private static final int PATIENCE_MILLIS = 60_000;

  private RawHttp() {}

  /** What came back, as text. */
  record Answer(int status, List<String> headers, String body) {
    Optional<String> header(String name) {
      String start = name.toLowerCase(Locale.ROOT) + ":";
      return headers.stream()
          .filter(line -> line.toLowerCase(Locale.ROOT).startsWith(start))
          .map(line -> line.substring(start.length()).strip())
          .findFirst();
    }
  }

  /** One request to this machine, with the headers given and no others but the body's length. */
  static Answer ask(int port, String line, String body, String... headers) throws IOException {
    return ask(InetAddress.getLoopbackAddress(), port, line, body, headers);
  }

  static Answer ask(InetAddress to, int port, String line, String body, String... headers)
      throws IOException {
    try (Socket socket = new Socket(to, port)) {
      return answer(socket, line, body, headers);
    }
  }

  static Answer answer(Socket socket, String line, String body, String... headers)
      throws IOException {
    socket.setSoTimeout(PATIENCE_MILLIS);
    StringJoiner request = new StringJoiner("\r\n");
    request.add(line + " HTTP/1.1");
    for (String header : headers) {
      request.add(header);
    }
    byte[] bytes = body.getBytes(StandardCharsets.UTF_8);
    if (bytes.length > 0) {
      request.add("Content-Type: application/json").add("Content-Length: " + bytes.length);
    }
    request.add("Connection: close").add("").add("");
    socket.getOutputStream().write(request.toString().getBytes(StandardCharsets.ISO_8859_1));
    socket.getOutputStream().write(bytes);
    socket.getOutputStream().flush();
    String all = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    int end = all.indexOf("\r\n\r\n");
    if (end < 0) {
      throw new IOException("no answer to " + line + ": " + all);
    }
    List<String> head = all.substring(0, end).lines().toList();
    return new Answer(
        Integer.parseInt(head.get(0).substring(9, 12)),
        head.subList(1, head.size()),
        all.substring(end + 4));
  }
}
