// The types of the questions, by the names the app uses. They come from the engine's own JSON
// Schemas: generated/questions.ts is written by script/generate.mjs.
import type { Questions } from '../../generated/questions';

export type Question = keyof Questions;
export type Input<Q extends Question> = Questions[Q]['input'];
export type Output<Q extends Question> = Questions[Q]['output'];

export type View = Output<'view'>;
export type Scene = NonNullable<View['scene']>;
export type Point = Scene['points'][number];
export type Slot = Point['slot'];
export type Slider = View['sliders'][number];
export type WhatIf = NonNullable<Input<'view'>['what_if']>;
export type Judged = Output<'judge'>;
export type Course = Output<'course'>;
export type FoundSign = Course['steps'][number]['signs'][number];
export type FoundEntry = Input<'found'>['found'];
export type CourseStep = Output<'start-up'>['steps'][number];
export type Pours = Output<'pours'>;
export type BlendGuide = Output<'blend_guide'>;
export type BlendReading = Output<'blend_reading'>;
export type FirstGlass = Output<'first_glass'>;
export type Curve = NonNullable<FirstGlass['curve']>;
export type Leaf = Output<'leaf'>;
export type Rest = NonNullable<Input<'first_glass'>['rest']>;
export type Working = NonNullable<View['working']>[number];
export type Quick = Output<'quick'>;
export type Report = Output<'report'>;
export type CheckedMeter = Output<'meter'>;
export type FormName = Input<'enter'>['form'];
export type FormField = Output<'form'>['fields'][number];
export type Fault = Output<'enter'>['errors'][number];
export type Units = NonNullable<Input<'form'>['units']>;
export type Paper = NonNullable<Input<'paper'>['paper']>;
export type Page = NonNullable<Input<'paper'>['page']>;

// The body of an entry: what it holds is the engine's business, not ours.
export type Body = { [key: string]: unknown };
