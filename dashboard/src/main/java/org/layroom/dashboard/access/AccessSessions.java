package org.layroom.dashboard.access;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.dashboard.access.device.OwnerOnlyFiles;
import org.tinylog.Logger;

/**
 * Who may come in to the page's API, kept over restarts in a file of the data folder's {@code
 * access}: the paired devices of people, or programs. Of a token (256 random bits) only the SHA-256
 * is kept: it is too long to be guessed from that, so that no slow hash is needed. Not safe for
 * threads by itself.
 */
final class AccessSessions {
  static final int MOST = 40;

  /** Whose they are, and how long they last. */
  enum Kind {
    /** A device ends 30 days after it was last seen and 180 days after it was made. */
    DEVICES("sessions", "paired devices", Duration.ofDays(30), Duration.ofDays(180)),
    /** A program's token lasts until it is revoked. */
    PROGRAMS("tokens", "tokens", FOR_EVER, FOR_EVER);

    private final String file;
    private final String words;
    private final Duration idle;
    private final Duration longest;

    Kind(String file, String words, Duration idle, Duration longest) {
      this.file = file;
      this.words = words;
      this.idle = idle;
      this.longest = longest;
    }
  }

  private static final Duration FOR_EVER = Duration.ofDays(366_000);

  /** Being seen is written down this seldom, to spare the card. */
  private static final Duration SEEN_EVERY = Duration.ofHours(1);

  private static final int TOKEN_BYTES = 32;
  private static final int ID_BYTES = 4;
  private static final SecureRandom RANDOM = new SecureRandom();
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final Kind kind;
  private final Path file;
  private final Supplier<Instant> now;
  private Map<String, AccessSession> byHash = new LinkedHashMap<>();
  private Instant written = Instant.MIN;

  AccessSessions(Kind kind, Path folder, Supplier<Instant> now) {
    this.kind = kind;
    this.file = folder.resolve(kind.file);
    this.now = now;
    try {
      OwnerOnlyFiles.folder(folder);
      if (Files.exists(file)) {
        read(Files.readString(file));
      }
    } catch (IOException e) {
      throw new UncheckedIOException("The " + kind.words + " cannot be read from " + file, e);
    }
  }

  private void read(String text) {
    try {
      for (JsonNode one : JSON.readTree(text).path("sessions")) {
        AccessSession session =
            new AccessSession(
                one.path("id").asText(),
                one.path("name").asText(),
                Role.of(one.path("role").asText()).orElseThrow(DamagedRow::new),
                Instant.parse(one.path("made").asText()),
                Instant.parse(one.path("seen").asText()));
        byHash.put(one.path("sha256").asText(), session);
      }
    } catch (IOException | DateTimeException | DamagedRow e) {
      byHash.clear();
      Logger.warn("{} cannot be read: the {} must be made again", file, kind.words);
    }
  }

  private static final class DamagedRow extends RuntimeException {}

  /**
   * Lets one in.
   *
   * @return its token and its session
   * @throws UncheckedIOException when it cannot be kept; nobody is let in then
   */
  PairingAttempt.LetIn add(String name, Role role) {
    byte[] token = new byte[TOKEN_BYTES];
    RANDOM.nextBytes(token);
    byte[] id = new byte[ID_BYTES];
    RANDOM.nextBytes(id);
    Instant time = now.get();
    AccessSession session = new AccessSession(HexFormat.of().formatHex(id), name, role, time, time);
    String written = Base64.getUrlEncoder().withoutPadding().encodeToString(token);
    Map<String, AccessSession> next = lasting();
    next.put(hash(written), session);
    keep(next);
    return new PairingAttempt.LetIn(session, written);
  }

  boolean hasPlace() {
    return lasting().size() < MOST;
  }

  private Map<String, AccessSession> lasting() {
    Map<String, AccessSession> lasting = new LinkedHashMap<>();
    byHash.forEach(
        (hash, session) -> {
          if (lasts(session)) {
            lasting.put(hash, session);
          }
        });
    return lasting;
  }

  private boolean lasts(AccessSession session) {
    Instant time = now.get();
    return session.seen().plus(kind.idle).isAfter(time)
        && session.made().plus(kind.longest).isAfter(time);
  }

  /** Whose token this is, if it still opens; it counts as seen. */
  Optional<AccessSession> enter(String token) {
    String hash = hash(token);
    Optional<AccessSession> found = Optional.ofNullable(byHash.get(hash)).filter(this::lasts);
    found.ifPresent(
        session -> {
          Instant time = now.get();
          byHash.put(hash, session.seenAt(time));
          if (Duration.between(written, time).abs().compareTo(SEEN_EVERY) > 0) {
            writeSeen(time);
          }
        });
    return found;
  }

  /** A full card keeps nobody out. */
  private void writeSeen(Instant time) {
    written = time;
    try {
      OwnerOnlyFiles.write(file, text(byHash));
    } catch (IOException e) {
      Logger.warn("{} cannot be written: {}", file, e.getMessage());
    }
  }

  boolean still(String id) {
    return byHash.values().stream().anyMatch(session -> session.id().equals(id) && lasts(session));
  }

  List<AccessSession> all() {
    return List.copyOf(lasting().values());
  }

  /** Ends one. */
  boolean remove(String id) {
    Map<String, AccessSession> next = lasting();
    boolean there = next.values().removeIf(session -> session.id().equals(id));
    if (there) {
      keep(next);
    }
    return there;
  }

  private void keep(Map<String, AccessSession> next) {
    try {
      OwnerOnlyFiles.write(file, text(next));
    } catch (IOException e) {
      throw new UncheckedIOException("The " + kind.words + " cannot be saved in " + file, e);
    }
    byHash = next;
    written = now.get();
  }

  private static String text(Map<String, AccessSession> sessions) {
    ArrayNode list = JsonNodeFactory.instance.arrayNode();
    sessions.forEach(
        (hash, session) ->
            list.addObject()
                .put("id", session.id())
                .put("name", session.name())
                .put("role", session.role().id())
                .put("made", session.made().toString())
                .put("seen", session.seen().toString())
                .put("sha256", hash));
    return JsonNodeFactory.instance.objectNode().set("sessions", list).toString() + "\n";
  }

  private static String hash(String token) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(token.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
