import { MOST_FILE_BYTES } from '@gapwright/records';
import { StorageError } from '@gapwright/store';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { ApiFault } from './api-fault.js';

/** Every error leaves the server as one clear sentence with a stable code; what went wrong inside stays in the log. */
export function answerErrors(app: FastifyInstance): void {
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const fault = faultOf(error, request);
    if (fault.statusCode >= 500) request.log.error(error);
    send(reply, fault);
  });
  app.setNotFoundHandler((request, reply) => {
    send(reply, new ApiFault(404, 'API-NOT-FOUND', `There is nothing at ${request.method} ${shortPath(request)}.`));
  });
}

function send(reply: FastifyReply, fault: ApiFault): void {
  void reply
    .code(fault.statusCode)
    .header('cache-control', 'no-store')
    .type('application/json; charset=utf-8')
    // As text: the answer must not depend on the route's own schemas.
    .send(JSON.stringify(fault.toJson()));
}

function faultOf(error: FastifyError, request: FastifyRequest): ApiFault {
  if (error instanceof ApiFault) return error;
  if (error instanceof StorageError) return new ApiFault(503, 'STORE-FAILED', error.message);
  if (hasZodFastifySchemaValidationErrors(error)) {
    const problems = error.validation.map(({ instancePath, message }) => ({
      field: instancePath.slice(1).replaceAll('/', '.') || '(the whole)',
      message: message ?? 'is not understood',
    }));
    const first = problems[0]!;
    const where = error.validationContext ?? 'request';
    return new ApiFault(
      400,
      'API-BAD-REQUEST',
      `The ${where} of ${request.method} ${shortPath(request)} is not understood: ${first.field}: ${first.message}.`,
      problems,
    );
  }
  switch (error.code) {
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
      return new ApiFault(
        415,
        'API-CONTENT-TYPE',
        'Only application/json, and application/octet-stream for files, is taken.',
      );
    case 'FST_ERR_CTP_BODY_TOO_LARGE': {
      const most = Math.floor((request.routeOptions.bodyLimit ?? MOST_FILE_BYTES) / 1024 / 1024);
      return new ApiFault(
        413,
        'API-TOO-LARGE',
        `At most ${most} MB are taken here. Send only what belongs to the job.`,
      );
    }
    case 'FST_ERR_CTP_EMPTY_JSON_BODY':
      return new ApiFault(400, 'API-BAD-JSON', 'The body is empty. Send a JSON object.');
  }
  if (error.statusCode === 429) {
    return new ApiFault(429, 'API-TOO-MANY', 'Too many requests came at once. Wait a moment and go on.');
  }
  const status = error.statusCode ?? 500;
  if (error instanceof SyntaxError && status === 400) {
    return new ApiFault(400, 'API-BAD-JSON', `The body is not JSON: ${error.message}.`);
  }
  if (status >= 400 && status < 500) return new ApiFault(status, 'API-BAD-REQUEST', error.message);
  return new ApiFault(
    500,
    'API-FAULT',
    'This is a fault of ours, not of what was sent. The log of the server says more.',
  );
}

/** Path for a sentence: no query, and never longer than a line. */
function shortPath(request: FastifyRequest): string {
  return request.url.split('?')[0]!.slice(0, 120);
}
