package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
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

  /** {@code {"action":"pair","device":"bench","room":"shop"}}, or {@code revoke}. */
  Exchanges.Reply change(HttpServerExchange exchange, ObjectNode body) {
    LocalOnly.require(exchange);
    Channel channel = channel(body);
    return switch (body.path("action").asText("")) {
      case "pair" -> new Exchanges.Reply(201, devices.pair(channel));
      case "revoke" ->
          Exchanges.Reply.ok(
              devices
                  .revoke(channel)
                  .orElseThrow(
                      () ->
                          Problem.badField("device", channel.user(), "this device is not paired")));
      default ->
          throw Problem.badField(
              "action", body.path("action").asText(""), "must be pair or revoke");
    };
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
