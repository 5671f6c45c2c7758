package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.util.Optional;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.answer.DeviceAnswers;
import org.layroom.device.telemetry.Channel;

/** Pairing and revoking of devices, from this machine only: the answer holds a password. */
final class DeviceApi {
  private final Api api;
  private final DeviceAnswers devices;

  DeviceApi(Api api, DeviceAnswers devices) {
    this.api = api;
    this.devices = devices;
  }

  JsonNode list(HttpServerExchange exchange) {
    LocalOnly.require(exchange);
    return devices.list();
  }

  JsonNode brokerFiles(HttpServerExchange exchange) {
    LocalOnly.require(exchange);
    return devices.brokerFiles();
  }

  /**
   * {@code {"action":"pair","device":"bench","room":"shop"}} or {@code revoke}; {@code
   * {"action":"pair-reader","reader":"hub"}} or {@code revoke-reader}.
   */
  Exchanges.Reply change(HttpServerExchange exchange, ObjectNode body) {
    LocalOnly.require(exchange);
    String action = body.path("action").asText("");
    return switch (action) {
      case "pair" -> new Exchanges.Reply(201, devices.pair(channel(body)));
      case "revoke" -> {
        Channel channel = channel(body);
        yield gone(devices.revoke(channel), "device", channel.user(), "this device is not paired");
      }
      case "pair-reader" -> new Exchanges.Reply(201, devices.pair(reader(body)));
      case "revoke-reader" -> {
        BrokerClient.Reader reader = reader(body);
        yield gone(devices.revoke(reader), "reader", reader.name(), "no reader has this name");
      }
      default ->
          throw Problem.badField(
              "action", action, "must be pair, revoke, pair-reader or revoke-reader");
    };
  }

  private static Exchanges.Reply gone(
      Optional<ObjectNode> answer, String field, String value, String reason) {
    return Exchanges.Reply.ok(answer.orElseThrow(() -> Problem.badField(field, value, reason)));
  }

  private static BrokerClient.Reader reader(ObjectNode body) {
    String name = body.path("reader").asText("");
    try {
      return new BrokerClient.Reader(name);
    } catch (IllegalArgumentException e) {
      throw Problem.badField("reader", name, String.valueOf(e.getMessage()));
    }
  }

  private Channel channel(ObjectNode body) {
    String room = body.path("room").asText(api.chosenRoom());
    try {
      return Channel.of(room, body.path("device").asText(""));
    } catch (IllegalArgumentException e) {
      throw Problem.badField(
          "device", body.path("device").asText(""), String.valueOf(e.getMessage()));
    }
  }
}
