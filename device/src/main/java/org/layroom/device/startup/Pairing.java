package org.layroom.device.startup;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintStream;
import java.net.URI;
import java.util.Optional;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.publishing.BrokerLogin;

/**
 * {@code layroom-device pair}: asks for the broker's address and the password that {@code layroom
 * pair-device} shows on the dashboard's machine, tries them, and keeps them for this device alone.
 * The password comes over standard input, never as an argument, which others could see in the list
 * of processes.
 */
final class Pairing {
  private final BufferedReader in;
  private final PrintStream out;

  Pairing(BufferedReader in, PrintStream out) {
    this.in = in;
    this.out = out;
  }

  /**
   * Asks, tries and keeps.
   *
   * @return whether the device is paired now
   * @throws IllegalArgumentException when what was typed, or the settings, cannot be used
   * @throws IOException when no broker answers, or the login cannot be kept
   */
  boolean run(DeviceConfig config) throws IOException {
    if (config.namesBrokerUser()) {
      throw new IllegalArgumentException(
          "broker.user is set in the settings file. Remove it and broker.password-file, then"
              + " pair again");
    }
    out.printf(
        "This is device %s of room %s. On the dashboard's machine, run:%n%n"
            + "    layroom pair-device %s --room %s%n%n",
        config.channel().device(),
        config.channel().room(),
        config.channel().device(),
        config.channel().room());
    URI usual = BrokerLogin.lastAddress(config.data()).orElse(config.broker().uri());
    String broker = ask("Address of the broker [" + usual + "]: ").orElse(usual.toString());
    String password = BrokerLogin.typed(ask("Password shown there: ").orElse(""));
    URI uri = DeviceConfig.address(broker.contains("://") ? broker : "mqtt://" + broker);
    return switch (BrokerLogin.pair(
        config.data(), uri, config.broker().caFile(), config.channel(), password)) {
      case PAIRED -> {
        out.println("Paired with " + uri + " as " + config.channel().user() + ".");
        yield true;
      }
      case REFUSED -> {
        out.println(
            "The broker at "
                + uri
                + " refuses this password for device "
                + config.channel().device()
                + " of room "
                + config.channel().room()
                + ". Nothing was changed. Run \"layroom pair-device\" there again and enter the"
                + " new password.");
        yield false;
      }
    };
  }

  private Optional<String> ask(String question) throws IOException {
    out.print(question);
    out.flush();
    return Optional.ofNullable(in.readLine()).map(String::strip).filter(text -> !text.isEmpty());
  }
}
