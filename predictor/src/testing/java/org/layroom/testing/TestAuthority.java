package org.layroom.testing;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * An authority of a test's own and a broker's certificate that it has signed, made by Java's
 * keytool.
 *
 * @param authority the authority's certificate
 * @param certificate the broker's
 * @param key the broker's private key
 */
public record TestAuthority(Path authority, Path certificate, Path key) {
  private static final String STORE_PASSWORD = "only-for-this-test";

  /**
   * Makes both.
   *
   * @param name of the files, without ending
   * @param holder whom the certificate is made for: {@code ip:127.0.0.1}, {@code dns:NAME}
   * @param more of keytool's options, such as {@code -startdate}
   */
  public static TestAuthority make(Path folder, String name, String holder, String... more)
      throws IOException, InterruptedException {
    Path store = folder.resolve(name + ".p12");
    keytool(store, "-alias", "ca", "-dname", "CN=" + name, "-ext", "bc:c");
    List<String> own =
        new ArrayList<>(List.of("-alias", "broker", "-dname", "CN=broker", "-signer", "ca"));
    own.addAll(List.of("-ext", "san=" + holder));
    own.addAll(List.of(more));
    keytool(store, own.toArray(new String[0]));
    try (InputStream in = Files.newInputStream(store)) {
      KeyStore keys = KeyStore.getInstance("PKCS12");
      keys.load(in, STORE_PASSWORD.toCharArray());
      return new TestAuthority(
          pem(store, "-ca.pem", "CERTIFICATE", keys.getCertificate("ca").getEncoded()),
          pem(store, "-broker.pem", "CERTIFICATE", keys.getCertificate("broker").getEncoded()),
          pem(
              store,
              "-key.pem",
              "PRIVATE KEY",
              keys.getKey("broker", STORE_PASSWORD.toCharArray()).getEncoded()));
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("keytool's file " + store + " cannot be read", e);
    }
  }

  private static void keytool(Path store, String... arguments)
      throws IOException, InterruptedException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "keytool").toString());
    command.addAll(List.of("-genkeypair", "-keyalg", "EC", "-keystore", store.toString()));
    command.addAll(List.of("-storetype", "PKCS12", "-storepass", STORE_PASSWORD));
    command.addAll(List.of(arguments));
    Path log = store.resolveSibling(store.getFileName() + ".log");
    Process process =
        new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(log.toFile()).start();
    if (!process.waitFor(2, TimeUnit.MINUTES) || process.exitValue() != 0) {
      process.destroyForcibly();
      throw new IOException("keytool: " + Files.readString(log));
    }
  }

  private static Path pem(Path store, String ending, String kind, byte[] content)
      throws IOException {
    String body = Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(content);
    return Files.writeString(
        store.resolveSibling(store.getFileName().toString().replace(".p12", ending)),
        "-----BEGIN " + kind + "-----\n" + body + "\n-----END " + kind + "-----\n");
  }
}
