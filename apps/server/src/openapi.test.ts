import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  type Answer,
  ask,
  newBurn,
  newRevision,
  sendFile,
  sendJson,
  sha256Of,
  startTestServer,
  type TestServer,
} from './testing/test-server.js';

/** What OpenAPI 3.1 asks of the parts this document uses (OpenAPI Specification 3.1.0, sections 4.8.1 to 4.8.24). */
const DOCUMENT = {
  type: 'object',
  required: ['openapi', 'info', 'paths'],
  properties: {
    openapi: { type: 'string', pattern: '^3\\.1\\.\\d+$' },
    info: {
      type: 'object',
      required: ['title', 'version'],
      properties: { title: { type: 'string' }, version: { type: 'string' } },
    },
    paths: {
      type: 'object',
      minProperties: 1,
      patternProperties: { '^/': { $ref: '#/$defs/path' } },
      additionalProperties: false,
    },
  },
  $defs: {
    path: {
      type: 'object',
      patternProperties: { '^(get|put|post|delete|head)$': { $ref: '#/$defs/operation' } },
      additionalProperties: false,
    },
    operation: {
      type: 'object',
      required: ['summary', 'responses'],
      properties: {
        summary: { type: 'string', minLength: 1 },
        parameters: { type: 'array', items: { $ref: '#/$defs/parameter' } },
        requestBody: { type: 'object', required: ['content'], properties: { content: { $ref: '#/$defs/content' } } },
        responses: {
          type: 'object',
          minProperties: 1,
          patternProperties: {
            '^([1-5]\\d\\d|[1-5]XX|default)$': {
              type: 'object',
              required: ['description'],
              properties: { description: { type: 'string' }, content: { $ref: '#/$defs/content' } },
            },
          },
          additionalProperties: false,
        },
      },
    },
    parameter: {
      type: 'object',
      required: ['name', 'in', 'schema'],
      properties: {
        in: { enum: ['query', 'header', 'path', 'cookie'] },
        name: { type: 'string' },
        schema: { type: ['object', 'boolean'] },
      },
      if: { properties: { in: { const: 'path' } } },
      // biome-ignore lint/suspicious/noThenProperty: a word of JSON Schema
      then: { required: ['required'], properties: { required: { const: true } } },
    },
    content: {
      type: 'object',
      minProperties: 1,
      additionalProperties: { type: 'object', properties: { schema: { type: ['object', 'boolean'] } } },
    },
  },
};

interface Operation {
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly schema: object }[];
  readonly requestBody?: { readonly content: Content };
  readonly responses: Readonly<Record<string, { readonly content?: Content }>>;
}
type Content = Readonly<Record<string, { readonly schema: object }>>;

interface Document {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
}

const ajv = new Ajv2020({ strict: false, validateFormats: false });
let server: TestServer;
let document: Document;
beforeAll(async () => {
  server = await startTestServer();
  document = (await ask(server.address, '/api/openapi.json')).json();
});
afterAll(() => server.close());

test('the document is OpenAPI 3.1, with every path parameter declared', () => {
  const validate = ajv.compile(DOCUMENT);
  validate(document);
  expect(validate.errors).toBeNull();
  for (const [path, operations] of Object.entries(document.paths)) {
    const named = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]);
    for (const operation of Object.values(operations)) {
      const declared = (operation.parameters ?? []).filter((p) => p.in === 'path').map((p) => p.name);
      expect(declared.sort(), path).toEqual(named.sort());
    }
  }
});

test('every schema in it is a JSON Schema of 2020-12', () => {
  const contents = Object.values(document.paths).flatMap((operations) =>
    Object.values(operations).flatMap((o) => [
      o.requestBody?.content,
      ...Object.values(o.responses).map((r) => r.content),
    ]),
  );
  const schemas = contents.flatMap((content) => Object.values(content ?? {}).map((c) => c.schema));
  expect(schemas.length).toBeGreaterThan(20);
  for (const schema of schemas) {
    expect(ajv.validateSchema(schema), JSON.stringify(ajv.errors)).toBe(true);
    expect(() => ajv.compile(schema)).not.toThrow();
  }
});

test('it names every address the contract names', () => {
  const named = Object.entries(document.paths).flatMap(([path, operations]) =>
    Object.keys(operations).map((method) => `${method.toUpperCase()} ${path}`),
  );
  const wanted = [
    ...['GET /api/health', 'GET /api/changes', 'GET /api/changes/stream', 'GET /api/jobs/{jobId}'],
    ...['PUT /api/revisions/{id}', 'PUT /api/files/{sha256}', 'GET /api/files/{sha256}', 'PUT /api/burns/{id}'],
    ...['PUT /api/books/{kind}/{sha256}', 'GET /api/books/{kind}', 'POST /api/papers', 'POST /api/offers'],
    'GET /api/offers/{id}',
  ];
  expect(named.filter((name) => !name.startsWith('HEAD')).sort()).toEqual(wanted.sort());
});

test('what is sent and what is answered is as the document says', async () => {
  const bytes = Buffer.from('0\nEOF\n');
  const drawing = { sha256: sha256Of(bytes), fileName: 'a.dxf', byteLength: bytes.length };
  const revision = newRevision({ drawing });
  const burn = newBurn();
  const { address } = server;
  const put = (path: string, body: unknown): Promise<Answer> => sendJson(address, 'PUT', path, body);
  expectAsSaid('put', '/api/files/{sha256}', await sendFile(address, drawing.sha256, bytes));
  expectAsSent('put', '/api/revisions/{id}', revision);
  expectAsSaid('put', '/api/revisions/{id}', await put(`/api/revisions/${revision.id}`, revision));
  expectAsSent('put', '/api/burns/{id}', burn);
  expectAsSaid('put', '/api/burns/{id}', await put(`/api/burns/${burn.id}`, burn));
  expectAsSaid('get', '/api/health', await ask(address, '/api/health'));
  expectAsSaid('get', '/api/changes', await ask(address, '/api/changes?after=0'));
  expectAsSaid('get', '/api/jobs/{jobId}', await ask(address, `/api/jobs/${revision.jobId}`));
  expectAsSaid('get', '/api/books/{kind}', await ask(address, '/api/books/post'));
  expectAsSaid('get', '/api/jobs/{jobId}', await ask(address, '/api/jobs/none'), '4XX');
  expectAsSaid('put', '/api/burns/{id}', await put(`/api/burns/${burn.id}`, {}), '4XX');
});

function expectAsSent(method: string, path: string, body: unknown): void {
  const validate = ajv.compile(document.paths[path]![method]!.requestBody!.content['application/json']!.schema);
  validate(JSON.parse(JSON.stringify(body)));
  expect(validate.errors, path).toBeNull();
  validate({});
  expect(validate.errors, path).not.toBeNull();
}

function expectAsSaid(method: string, path: string, answer: Answer, status = '200'): void {
  const validate = ajv.compile(document.paths[path]![method]!.responses[status]!.content!['application/json']!.schema);
  validate(answer.json());
  expect(validate.errors, `${path} ${answer.bytes.toString()}`).toBeNull();
}
