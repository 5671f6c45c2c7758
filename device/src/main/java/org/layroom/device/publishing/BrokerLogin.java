package org.layroom.device.publishing;

import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import org.layroom.device.files.WholeFile;
import org.layroom.device.telemetry.Channel;

/**
 * How a paired device comes in at its broker: a file of its own beside the outbox, for the device's
 * user alone. The password is its first line, so that it is also the password file of the {@link
 * BrokerAddress}; address and name follow.
 */
public final class BrokerLogin {
  private static final String FILE = "broker-login";
  private static final String URI_KEY = "broker.uri=";
  private static final String USER_KEY = "broker.user=";
  private static final Pattern PASSWORD = Pattern.compile("[a-z2-9]{5}(-[a-z2-9]{5}){3}");

  private BrokerLogin() {}

  /** What became of pairing. */
  public enum Outcome {
    /** The broker has let the device in, and the login is kept. */
    PAIRED,
    /** The broker refuses the password; nothing is kept. */
    REFUSED
  }

  /**
   * The password as a person types it, without blanks and in small letters.
   *
   * @throws IllegalArgumentException when it cannot be one, with how it looks
   */
  public static String typed(String password) {
    String plain = password.replaceAll("\\s", "").toLowerCase(Locale.ROOT);
    if (!PASSWORD.matcher(plain).matches()) {
      throw new IllegalArgumentException(
          "the password is four groups of five letters or digits, such as abcde-fghjk-mnpqr-stuvw,"
              + " without 0, 1, i, l and o; enter it as \"layroom pair-device\" shows it");
    }
    return plain;
  }

  /**
   * Comes in at the broker once, and keeps the login when that went well.
   *
   * @param data the device's data folder, made when missing; its owner becomes the login's
   * @param caFile who has signed the broker's certificate; empty for the public authorities
   * @param password as {@link #typed} gives it
   * @throws IOException when no broker answers, or the login cannot be kept
   */
  public static Outcome pair(
      Path data, URI broker, Optional<Path> caFile, Channel channel, String password)
      throws IOException {
    BrokerAddress address =
        new BrokerAddress(broker, Optional.of(channel.user()), Optional.empty(), caFile);
    if (BrokerLink.tryOnce(address, channel, password) == BrokerLink.Trial.REFUSED) {
      return Outcome.REFUSED;
    }
    Files.createDirectories(data);
    write(
        data.resolve(FILE),
        password + "\n" + URI_KEY + broker + "\n" + USER_KEY + channel.user() + "\n");
    return Outcome.PAIRED;
  }

  /** Typed by root and read by the service, so it belongs to the folder's owner. */
  private static void write(Path file, String text) throws IOException {
    Path folder = Optional.ofNullable(file.getParent()).orElse(Path.of("."));
    WholeFile.replacePrivate(file, text.getBytes(StandardCharsets.UTF_8), Files.getOwner(folder));
  }

  /**
   * The broker that the device was paired with; empty when it never was.
   *
   * @throws IllegalArgumentException when the login cannot be read, or is another device's
   */
  public static Optional<BrokerAddress> kept(Path data, Channel channel, Optional<Path> caFile) {
    Path file = data.resolve(FILE);
    if (!Files.exists(file)) {
      return Optional.empty();
    }
    try {
      List<String> lines = Files.readAllLines(file);
      String user = after(lines, USER_KEY);
      if (!user.equals(channel.user())) {
        throw new IllegalArgumentException(
            "this device was paired as "
                + user
                + " and is "
                + channel.user()
                + " now: pair it again (layroom-device pair), or delete "
                + file);
      }
      return Optional.of(
          new BrokerAddress(
              URI.create(after(lines, URI_KEY)),
              Optional.of(user),
              Optional.of(new BrokerPassword.InFile(file)),
              caFile));
    } catch (IOException e) {
      throw new IllegalArgumentException(
          "the login " + file + " cannot be read: pair the device again (layroom-device pair)", e);
    }
  }

  /** The address that a device was paired with last, whoever it was; empty when it never was. */
  public static Optional<URI> lastAddress(Path data) {
    try {
      String uri =
          Files.exists(data.resolve(FILE))
              ? after(Files.readAllLines(data.resolve(FILE)), URI_KEY)
              : "";
      return uri.isEmpty() ? Optional.empty() : Optional.of(URI.create(uri));
    } catch (IOException | IllegalArgumentException e) {
      return Optional.empty(); // it is about to be written anew
    }
  }

  private static String after(List<String> lines, String key) {
    return lines.stream()
        .filter(line -> line.startsWith(key))
        .map(line -> line.substring(key.length()).strip())
        .findFirst()
        .orElse("");
  }
}
