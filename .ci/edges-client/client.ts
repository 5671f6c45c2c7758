// Reads a room and asks for a mix with a client that is made from the description of the API.
import createClient from "openapi-fetch";
import type { paths } from "./api.js";

const [page, token] = process.argv.slice(2);
const layroom = createClient<paths>({ baseUrl: page, headers: { Authorization: `Bearer ${token}` } });

const room = await layroom.GET("/api/room");
if (!room.data) throw new Error(JSON.stringify(room.error));
const verdict = room.data.verdict;
console.log(`room ${room.data.room}, ${room.data.time}: ${verdict?.words}`);

const mix = await layroom.GET("/api/mix", { params: { query: { amount: "200ml" } } });
if (!mix.data) throw new Error(JSON.stringify(mix.error));
console.log(`200 ml: ${mix.data.catalystMl} ml of catalyst, gel in ${mix.data.gelMinutes?.p50} min`);

const refused = await layroom.POST("/api/tokens", { body: { action: "make", name: "more", role: "full" } });
if (refused.response.status !== 403) throw new Error(`a token made a token: ${refused.response.status}`);
